import { placedThermocouple } from './thermocouple-name.js';
import type { ToldHeat } from './told-heats.js';

/** How long a heat took: `6 min`, `45 s`. */
export function heatLength({ startedAt, endedAt }: Pick<ToldHeat, 'startedAt' | 'endedAt'>): string {
  const seconds = Math.round((Date.parse(endedAt) - Date.parse(startedAt)) / 1000);
  if (seconds < 120) return `${seconds} s`;
  const rest = seconds % 60;
  return rest === 0 ? `${seconds / 60} min` : `${Math.floor(seconds / 60)} min ${rest} s`;
}

/** Thermocouples that are told of one heat. */
const MOST = 8;

/** What each thermocouple showed, as the station summed it up; of one that governed a verdict, that it did. */
export function peaksInWords({
  thermocouples,
  verdicts,
}: Pick<ToldHeat, 'thermocouples' | 'verdicts'>): readonly string[] {
  const governing = new Set(verdicts.map(({ count }) => count.verdict?.reading.thermocouple));
  const words = thermocouples.slice(0, MOST).map((reading) => {
    const { id, peakC, secondsAboveLiquidus, liquidusC } = reading;
    const above =
      secondsAboveLiquidus === undefined
        ? ''
        : `, ${secondsAboveLiquidus} s above ${liquidusC === undefined ? 'liquidus' : `${liquidusC} °C`}`;
    return `${placedThermocouple(reading)} ${peakC} °C${above}${governing.has(id) ? ', governs' : ''}`;
  });
  return thermocouples.length > MOST ? [...words, `and ${thermocouples.length - MOST} more`] : words;
}
