import fc from 'fast-check';
import { bisect, errorFunction } from 'simple-statistics';
import { wilson } from './wilson.js';

const counts = fc
  .tuple(fc.integer({ min: 1, max: 500 }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([trials, share]) => ({ trials, successes: Math.round(share * trials) }));

/** Chance that a share this low or lower is found where the true share is `share`, by the normal law. */
function chanceOfLower(successes: number, trials: number, share: number): number {
  const score = (successes / trials - share) / Math.sqrt((share * (1 - share)) / trials);
  return 0.5 * (1 + errorFunction(score / Math.SQRT2));
}

describe('the Wilson interval', () => {
  // Newcombe, Statistics in Medicine 17 (1998) 857, score method without correction; from memory.
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('of %d in %d is %d to %d', (successes, trials, low, high) => {
    const found = wilson(successes, trials);
    expect([found.low, found.high].map((end) => Number(end.toFixed(4)))).toEqual([low, high]);
  });

  // Closed forms: none of n ends at z²/(n + z²); half of n is even about one half.
  it('has its closed forms', () => {
    const squared = 1.959964 ** 2;
    for (const trials of [1, 5, 20, 1000]) {
      expect(wilson(0, trials)).toEqual({ low: 0, high: expect.closeTo(squared / (trials + squared), 12) as number });
      expect(wilson(trials, trials)).toEqual({
        low: expect.closeTo(trials / (trials + squared), 12) as number,
        high: 1,
      });
      const half = wilson(trials, 2 * trials);
      expect(half.low + half.high).toBeCloseTo(1, 12);
    }
  });

  it('ends where the score test of an independent package says 2.5 % on either side', () => {
    for (const [successes, trials] of [
      [3, 40],
      [10, 14],
      [1, 29],
      [81, 263],
      [490, 500],
    ] as const) {
      const { low, high } = wilson(successes, trials);
      const end = (chance: number): number =>
        bisect((share: number) => chanceOfLower(successes, trials, share) - chance, 1e-6, 1 - 1e-6, 200, 1e-9);
      expect(low).toBeCloseTo(end(0.975), 5);
      expect(high).toBeCloseTo(end(0.025), 5);
    }
  });

  it('holds the share, stays between 0 and 1, and narrows with trials', () => {
    fc.assert(
      fc.property(counts, ({ successes, trials }) => {
        const { low, high } = wilson(successes, trials);
        const share = successes / trials;
        expect(low >= 0 && low <= share && share <= high && high <= 1).toBe(true);
        const more = wilson(successes * 4, trials * 4);
        expect(more.high - more.low).toBeLessThan(high - low);
        const mirrored = wilson(trials - successes, trials);
        expect(mirrored.low).toBeCloseTo(1 - high, 12);
      }),
    );
  });

  it('knows nothing without trials, and turns down what is no count', () => {
    expect(wilson(0, 0)).toEqual({ low: 0, high: 1 });
    expect(() => wilson(2, 1)).toThrow(RangeError);
    expect(() => wilson(-1, 1)).toThrow(RangeError);
    expect(() => wilson(0.5, 1)).toThrow(RangeError);
    expect(() => wilson(0, Number.NaN)).toThrow(RangeError);
    expect(() => wilson(0, 1, 0)).toThrow(RangeError);
  });
});
