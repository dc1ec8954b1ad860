import { Heat, ThermocoupleSummary } from '../../../libs/domain/events/heat.js';
import { hotGasReadings } from '../../../libs/simulator/hot-gas-readings.js';
import { SeededRandom } from '../../../libs/simulator/seeded-random.js';
import { shiftTime } from './shift-time.js';

/** A hot-gas heat in the middle of its window, with one thermocouple at the joint and one on the package. */
export function hotGasHeat(
  random: SeededRandom,
  alloy: string,
  [from, to]: readonly [number, number],
  more: readonly ThermocoupleSummary[] = [],
): Heat {
  return spanOf(from, to, [...hotGasReadings(random, alloy), ...more]);
}

/** A heat between two minutes of the shift. */
export function spanOf(from: number, to: number, thermocouples: readonly ThermocoupleSummary[]): Heat {
  return { startedAt: shiftTime(from), endedAt: shiftTime(to), thermocouples };
}
