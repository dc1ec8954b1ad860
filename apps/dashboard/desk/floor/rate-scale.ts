/** What drawing looks at of a group's rate; shares from 0 to 1. */
export interface RateLike {
  readonly rate: number;
  readonly interval: { readonly low: number; readonly high: number };
  readonly verdict: 'above' | 'within' | 'below' | 'too-few';
}

/** Where a rate lies on the shared scale, in percent of its width. */
export interface RatePlace {
  readonly lowPct: number;
  readonly highPct: number;
  readonly dotPct: number;
  /** The interval goes on beyond the scale, … */
  readonly cut: boolean;
  /** … and so does the rate itself. */
  readonly dotCut: boolean;
}

const LEAST_END = 0.1;
/** Room beyond the longest interval, as a share of it. */
const MARGIN = 1.05;
const STEPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.25];
const MOST_TICKS = 6;

/**
 * Where the scale of all groups ends, as a share from 0 to 1. Groups of too few sites have intervals over most of it; were they
 * to set the scale, nothing could be told apart on it, so it follows the others, and theirs are cut at its end.
 */
export function scaleEnd(rates: readonly RateLike[], houseRate: number | null): number {
  const judged = rates.filter(({ verdict }) => verdict !== 'too-few');
  const highest = Math.max(
    houseRate ?? 0,
    ...(judged.length > 0 ? judged : rates).map(({ interval }) => interval.high),
  );
  return Math.min(1, Math.max(LEAST_END, highest * MARGIN));
}

/** Shares to label on the scale, from 0, in steps that are easy to read. */
export function ticksTo(end: number): readonly number[] {
  const step = STEPS.find((one) => end / one <= MOST_TICKS) ?? 0.25;
  return Array.from({ length: Math.floor(end / step + 1e-9) + 1 }, (_, n) => n * step);
}

export function placeOf({ rate, interval }: RateLike, end: number): RatePlace {
  return {
    lowPct: pctOf(interval.low, end),
    highPct: pctOf(interval.high, end),
    dotPct: pctOf(rate, end),
    cut: interval.high > end,
    dotCut: rate > end,
  };
}

/** A share's place on the scale, in percent of its width; its end, where it lies beyond. */
export function pctOf(share: number, end: number): number {
  return (100 * Math.min(share, end)) / end;
}

/** A share as percent: `9.1 %`. */
export function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}

/** Groups that can be judged before those of too few sites; of either the higher rate first. */
export function byWeight(a: RateLike, b: RateLike): number {
  return Number(a.verdict === 'too-few') - Number(b.verdict === 'too-few') || b.rate - a.rate;
}
