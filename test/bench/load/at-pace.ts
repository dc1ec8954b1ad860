import { setTimeout as delay } from 'node:timers/promises';

export interface Pace {
  readonly perSecond: number;
  /** How many times in all. */
  readonly count: number;
  /** How many may be at work at once. */
  readonly lanes: number;
}

/**
 * Does work at an even pace: lanes take turns, each does one thing after the other, and one that is late goes on without a
 * pause until it has caught up.
 * @returns how long it took from the first until the last was done, ms
 * @throws what the work throws; nothing more is begun then
 */
export async function atPace(
  { perSecond, count, lanes }: Pace,
  work: (n: number, lane: number) => Promise<void>,
): Promise<number> {
  const began = performance.now();
  let failed = false;
  const walk = async (lane: number): Promise<void> => {
    for (let n = lane; n < count && !failed; n += lanes) {
      const earlyMs = began + (n / perSecond) * 1000 - performance.now();
      if (earlyMs > 0) await delay(earlyMs);
      try {
        await work(n, lane);
      } catch (error) {
        failed = true;
        throw error;
      }
    }
  };
  await Promise.all(Array.from({ length: lanes }, (_, lane) => walk(lane)));
  return performance.now() - began;
}
