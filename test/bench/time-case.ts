import { BenchCase } from './bench-case.js';

export interface Timing {
  readonly name: string;
  /** Of all rounds, ms. */
  readonly medianMs: number;
  readonly fastestMs: number;
  /** Median of the product's time over this one's, round by round: one round's noise hits both. */
  readonly ratio: number;
}

/**
 * Times the runs of a case in turns. The first round warms up and is not counted.
 * @param nowMs a clock that only goes forward
 */
export async function timeCase(
  { runs, rounds }: Pick<BenchCase, 'runs' | 'rounds'>,
  nowMs: () => number = () => performance.now(),
): Promise<readonly Timing[]> {
  const times = runs.map((): number[] => []);
  for (let round = 0; round <= rounds; round += 1) {
    for (const [index, { run }] of runs.entries()) {
      const began = nowMs();
      await run();
      if (round > 0) times[index]?.push(nowMs() - began);
    }
  }
  const product = times[0] ?? [];
  return runs.map(({ name }, index) => {
    const own = times[index] ?? [];
    const ratios = own.map((ms, round) => (product[round] ?? NaN) / ms);
    return { name, medianMs: median(own), fastestMs: Math.min(...own), ratio: median(ratios) };
  });
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? NaN) + upper) / 2;
}
