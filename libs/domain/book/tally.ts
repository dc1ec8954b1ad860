import { EventRef } from '../events/event-order.js';
import { MeasuredVerdict } from '../heat/excursion-verdict.js';

/** How a figure is known, best first. */
export type Basis = 'measured' | 'declared' | 'inferred' | 'assumed' | 'unknown';

const WEAKEST_LAST: readonly Basis[] = ['measured', 'declared', 'inferred', 'assumed', 'unknown'];

/** One thing counted, with the grounds for counting it. */
export interface Count {
  readonly event: EventRef;
  /** Normalised UTC time of the event. */
  readonly at: string;
  readonly basis: Basis;
  /** In words: the step, or the reading against the line. */
  readonly why: string;
  /** Where it happened, for a device that travels. */
  readonly unit?: string;
  readonly refdes?: string;
  readonly verdict?: MeasuredVerdict;
}

/** What had been spent before the book knew the subject. */
export interface Prior {
  readonly count: number;
  readonly basis: 'declared' | 'assumed' | 'unknown';
}

/** What a subject has spent of one limit. */
export interface Tally {
  readonly prior: Prior;
  readonly counted: readonly Count[];
  /** Excursions that nobody measured and no profile rules out: shown beside the tally, not in it. */
  readonly possible: readonly Count[];
}

export const UNKNOWN_PRIOR: Prior = { count: 0, basis: 'unknown' };

export function emptyTally(prior: Prior): Tally {
  return { prior, counted: [], possible: [] };
}

export function usedOf(tally: Tally): number {
  return tally.prior.count + tally.counted.length;
}

/** The weakest ground that any part of the tally stands on: a sum is no better known than its worst term. */
export function basisOf(tally: Tally): Basis {
  const bases: Basis[] = tally.counted.map((count) => count.basis);
  if (tally.prior.count > 0 || tally.prior.basis === 'unknown') bases.push(tally.prior.basis);
  if (bases.length === 0) return tally.prior.basis;
  return bases.reduce((worst, basis) => (WEAKEST_LAST.indexOf(basis) > WEAKEST_LAST.indexOf(worst) ? basis : worst));
}
