import { millivolts } from '../../domain/trace/its90.js';
import { SeededRandom } from '../seeded-random.js';
import { curveAt, HeatCurve } from './heat-curve.js';
import { LoggedBead, LoggedHeat, Logger } from './logged-heat.js';

/** Noise of one reading, standard deviation, C. */
const NOISE_C = 0.15;
/** What a logger shows for a type K input with nothing on it: the top of its table. */
const NOTHING_CONNECTED_C = 1372;
/** A lead that came loose while the board cooled, s. */
const DROPOUT: readonly [number, number] = [290, 305];
/** Five to midnight and a half: the clock turns over while the board is hot. */
const STARTS_AT_S = 23 * 3600 + 57 * 60 + 30.5;

/** The file a logger would have written of a heat: header with units, a row for each sample. */
export function writeTraceCsv(heat: LoggedHeat, curves: readonly HeatCurve[], random: SeededRandom): string {
  const { beads, drive, logger } = heat;
  const delimiter = logger.decimals === 'comma' ? ';' : ',';
  const unit = logger.coldJunctionC === undefined ? '°C' : 'mV';
  const rows = [[timeHeader(logger), ...beads.map(({ name }) => `${name} (${unit})`)].join(delimiter)];
  const samples = (drive.at(-1)?.[0] ?? 0) * logger.perSecond;
  for (let sample = 0; sample <= samples; sample++) {
    const atS = sample / logger.perSecond;
    const cells = beads.map((bead, index) => cellOf(bead, curves[index] ?? [], atS, logger, random));
    const row = [timeCell(atS, logger), ...cells];
    rows.push(row.map((cell) => (logger.decimals === 'comma' ? cell.replace('.', ',') : cell)).join(delimiter));
  }
  return `${rows.join('\r\n')}\r\n`;
}

function cellOf(bead: LoggedBead, curve: HeatCurve, atS: number, logger: Logger, random: SeededRandom): string {
  const readingC = curveAt(curve, atS) + noise(random);
  if (bead.fault === 'not-connected') return NOTHING_CONNECTED_C.toFixed(1);
  if (bead.fault === 'dropout' && atS > DROPOUT[0] && atS < DROPOUT[1]) return '';
  if (logger.coldJunctionC === undefined) return readingC.toFixed(1);
  return (voltage(readingC) - voltage(logger.coldJunctionC)).toFixed(4);
}

function voltage(atC: number): number {
  const converted = millivolts('K', atC);
  if (!converted.ok) throw new RangeError(`no type K voltage at ${atC} C`);
  return converted.value;
}

/** Near enough to a normal distribution: the sum of twelve even ones. */
function noise(random: SeededRandom): number {
  let sum = -6;
  for (let draw = 0; draw < 12; draw++) sum += random.next();
  return sum * NOISE_C;
}

function timeHeader({ time }: Logger): string {
  return time === 'clock' ? 'Time' : 'Time (s)';
}

function timeCell(atS: number, { time }: Logger): string {
  if (time === 'seconds') return atS.toFixed(1);
  if (time === 'whole-seconds') return Math.floor(atS).toFixed(0);
  const ofDay = (STARTS_AT_S + atS) % 86_400;
  const minutes = Math.floor(ofDay / 60);
  const [hour, minute, second] = [
    Math.floor(minutes / 60).toFixed(0),
    (minutes % 60).toFixed(0),
    (ofDay % 60).toFixed(1),
  ];
  return `${hour.padStart(2, '0')}:${minute.padStart(2, '0')}:${second.padStart(4, '0')}`;
}
