import fc from 'fast-check';
import { steepestSlopes } from './steepest-slopes.js';

const WINDOW_S = 5;

/** Least squares by the textbook, every window on its own: slow, and nothing carried along that could drift. */
function bySearch(seconds: readonly number[], values: readonly number[]): { rise: number; fall: number } | undefined {
  const slopes: number[] = [];
  seconds.forEach((fromS, first) => {
    const last = seconds.findLastIndex((atS) => atS <= fromS + WINDOW_S + 1e-6);
    const count = last - first + 1;
    if (count < 3 || (seconds[last] ?? 0) - fromS < WINDOW_S * 0.8 - 1e-6) return;
    const times = seconds.slice(first, last + 1);
    const readings = values.slice(first, last + 1);
    const meanS = times.reduce((sum, atS) => sum + atS, 0) / count;
    const meanC = readings.reduce((sum, atC) => sum + atC, 0) / count;
    const above = times.reduce((sum, atS, index) => sum + (atS - meanS) * ((readings[index] ?? 0) - meanC), 0);
    slopes.push(above / times.reduce((sum, atS) => sum + (atS - meanS) ** 2, 0));
  });
  if (slopes.length === 0) return undefined;
  return { rise: Math.max(0, ...slopes), fall: Math.max(0, ...slopes.map((slope) => -slope)) };
}

describe('the steepest slopes', () => {
  it('are those of a search through every window', () => {
    const row = fc.tuple(fc.double({ min: 0.05, max: 3, noNaN: true }), fc.double({ min: 0, max: 300, noNaN: true }));
    fc.assert(
      fc.property(fc.array(row, { maxLength: 80 }), fc.integer({ min: 0, max: 100_000 }), (rows, startS) => {
        let atS = startS;
        const seconds = rows.map(([step]) => (atS += step));
        const values = rows.map(([, value]) => value);
        const found = steepestSlopes(Float64Array.from(seconds), Float64Array.from(values), WINDOW_S, 10);
        const expected = bySearch(seconds, values);
        if (expected === undefined) {
          expect(found).toEqual({});
          return;
        }
        expect(found.rise?.cPerS).toBeCloseTo(expected.rise, 6);
        expect(found.fall?.cPerS).toBeCloseTo(expected.fall, 6);
      }),
      { numRuns: 500 },
    );
  });

  it('stay exact over a log of many hours', () => {
    const seconds = Float64Array.from({ length: 150_000 }, (_, index) => index * 0.2);
    const values = seconds.map((atS) =>
      atS < 29_900 ? 25 + Math.sin(atS) : 25 + Math.sin(29_900) + (atS - 29_900) * 2.5,
    );
    expect(steepestSlopes(seconds, values, WINDOW_S, 10).rise?.cPerS).toBeCloseTo(2.5, 7);
  });

  it('are not fitted across a stretch without readings', () => {
    const seconds = Float64Array.from([0, 1, 2, 3, 4, 5, 30, 31, 32, 33, 34, 35]);
    const values = seconds.map((atS) => (atS < 10 ? 20 : 200));
    expect(steepestSlopes(seconds, values, 40, 10)).toEqual({});
    expect(steepestSlopes(seconds, values, WINDOW_S, 10).rise?.cPerS).toBe(0);
  });
});
