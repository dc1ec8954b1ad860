/** How long to wait before the next attempt. */
export interface RetryPace {
  /** After the first failure; doubled with each that follows. */
  readonly baseMs: number;
  /** Never longer by its own counsel. */
  readonly capMs: number;
}

export const DEFAULT_PACE: RetryPace = { baseMs: 500, capMs: 30_000 };

/**
 * The pause before an attempt, ms: between half and all of what has doubled so often, so that a hundred benches do not come back in
 * one instant; and never sooner than Heatbook asked for.
 * @param failures in a row, from 1
 * @param random from 0 to 1
 */
export function retryPauseMs(
  failures: number,
  { baseMs, capMs }: RetryPace,
  retryAfterMs = 0,
  random = Math.random(),
): number {
  const grown = Math.min(capMs, baseMs * 2 ** Math.min(failures - 1, 30));
  return Math.round(Math.max(retryAfterMs, grown / 2) + (grown / 2) * random);
}
