import { Dice } from '../fuzz/dice.js';

/** From when until when something is away, ms after the beginning. */
interface Outage {
  readonly fromMs: number;
  readonly toMs: number;
}

/** What befalls a schedule. Each draws its own mixture: with everything at once nothing would get far. */
export interface Weather {
  /** Chance that a process dies at one of its steps. */
  readonly kills: number;
  /** Chance that the connection to the store breaks at a question: before it is answered, or after. */
  readonly breaks: number;
  /** Chance that a step takes up to two seconds in place of some milliseconds. */
  readonly slow: number;
  /** Chances that a wake-up is lost, or comes twice. */
  readonly lostJobs: number;
  readonly doubledJobs: number;
  /** Chance that a client repeats what was answered. */
  readonly repeats: number;
  /** Chance that a client keeps an event back and posts it later. */
  readonly late: number;
  /** Longest pause of a client between two acts, ms: with none they meet. */
  readonly pauseMs: number;
  /** Chance that a step moves a device, which ties boards together. */
  readonly moves: number;
  readonly storeAway: readonly Outage[];
  /** The carrier has forgotten everything when it comes back. */
  readonly carrierAway: readonly Outage[];
  /** Clocks of processes are wrong by up to so many ms, one way or the other. */
  readonly skewMs: number;
}

/** Everything works, as in the undisturbed book. */
export const CALM: Weather = {
  ...{
    kills: 0,
    breaks: 0,
    slow: 0,
    lostJobs: 0,
    doubledJobs: 0,
    repeats: 0,
    late: 0,
    pauseMs: 60,
    moves: 0.2,
    skewMs: 0,
  },
  ...{ storeAway: [], carrierAway: [] },
};

/** @param lengthMs how long clients are at work, about */
export function drawWeather(dice: Dice, lengthMs: number): Weather {
  const sometimes = (share: number, figure: number): number => (dice.chance(share) ? figure : 0);
  const outages = (share: number): Outage[] => {
    if (!dice.chance(share)) return [];
    const fromMs = dice.below(lengthMs);
    return [{ fromMs, toMs: fromMs + 20 + dice.below(4000) }];
  };
  return {
    kills: sometimes(0.5, dice.one([0.005, 0.02, 0.06])),
    breaks: sometimes(0.4, dice.one([0.005, 0.03])),
    slow: sometimes(0.4, dice.one([0.01, 0.1])),
    lostJobs: sometimes(0.4, dice.one([0.2, 1])),
    doubledJobs: sometimes(0.3, 0.5),
    repeats: sometimes(0.5, 0.3),
    late: sometimes(0.5, dice.one([0.2, 0.7])),
    pauseMs: dice.one([2, 60]),
    moves: dice.one([0.1, 0.1, 0.6]),
    storeAway: outages(0.2),
    carrierAway: outages(0.2),
    skewMs: sometimes(0.3, dice.one([50, 5000])),
  };
}
