import { SeededRandom } from '../seeded-random.js';
import { Knot, ROOM_C } from './heat-curve.js';
import { LoggedHeat } from './logged-heat.js';

/** What one wants of a heat otherwise than the middle of its window. */
export interface HeatWish {
  /** Peak at the joint, C. */
  readonly jointC?: number;
  /** How much hotter the top of the package gets, C. */
  readonly bodyOverC?: number;
}

/**
 * A hot-gas heat as a bench runs it, no two alike: ramp, soak, peak and cooling of the gas, with a bead at the joint that lags
 * behind one on the package. Times and temperatures are common practice, without a source; the peaks lie in the middle of the
 * demo's profile windows.
 */
export function hotGasRecipe(random: SeededRandom, name: string, alloy: string, wish: HeatWish = {}): LoggedHeat {
  const leaded = alloy === 'Sn63Pb37';
  const soakC = random.whole(-3, 3) + (leaded ? 150 : 188);
  const topC = random.whole(-2, 2) + (leaded ? 227 : 261);
  const slowerS = random.whole(-6, 10);
  const holdS = random.whole(34, 44);
  const peakC = wish.jointC ?? (leaded ? random.figure(205, 209) : random.figure(232, 237));
  const bodyOverC = wish.bodyOverC ?? random.figure(3, 5);
  const soakedS = 160 + slowerS;
  const hotS = soakedS + 45;
  const drive: readonly Knot[] = [
    [0, ROOM_C],
    [5, ROOM_C],
    [80 + slowerS, soakC - 35],
    [soakedS, soakC],
    [hotS, topC],
    [hotS + holdS, topC],
    [hotS + holdS + 88, 60],
    [hotS + holdS + 158, 35],
  ];
  return {
    ...{ name, alloy, drive },
    beads: [
      { name: 'Joint', position: 'joint', lagS: random.figure(8, 11), peakC },
      { name: 'Body', position: 'body', lagS: random.figure(5, 7), peakC: peakC + bodyOverC },
    ],
    logger: { perSecond: 2, time: 'seconds' },
  };
}
