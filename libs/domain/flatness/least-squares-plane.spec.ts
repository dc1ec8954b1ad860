import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { HeightPoint } from './height-map.js';
import { leastSquaresPlane } from './least-squares-plane.js';

const heightMap = fc.array(
  fc.record({
    xMm: fc.integer({ min: 0, max: 400 }).map((tenths) => tenths / 10),
    yMm: fc.integer({ min: 0, max: 400 }).map((tenths) => tenths / 10),
    zUm: fc.integer({ min: -200, max: 200 }),
  }),
  { minLength: 4, maxLength: 40 },
);

/** Height at x = y = 0 and slopes, by an independent package's decomposition. */
function byMatrix(heights: readonly HeightPoint[]): readonly [number, number, number] {
  const places = new Matrix(heights.map(({ xMm, yMm }) => [1, xMm, yMm]));
  const solution = solve(places, Matrix.columnVector(heights.map(({ zUm }) => zUm / 1000)), true);
  return [solution.get(0, 0), solution.get(1, 0), solution.get(2, 0)];
}

describe('the least-squares plane', () => {
  it('is the one that ml-matrix finds', () => {
    fc.assert(
      fc.property(heightMap, (heights) => {
        const found = leastSquaresPlane(heights);
        fc.pre(wellSpread(heights));
        if (found.kind === 'problem') throw new Error(found.detail);
        const { heightMm, slopeX, slopeY, centroidXMm, centroidYMm } = found.plane;
        const [height, x, y] = byMatrix(heights);
        expect(slopeX).toBeCloseTo(x, 7);
        expect(slopeY).toBeCloseTo(y, 7);
        expect(heightMm - slopeX * centroidXMm - slopeY * centroidYMm).toBeCloseTo(height, 6);
      }),
    );
  });

  it('measures from the highest to the lowest deviation', () => {
    const corners = [0, 1, 2, 3].map((i) => ({ xMm: i % 2, yMm: i >> 1, zUm: i === 0 || i === 3 ? 40 : 0 }));
    const found = leastSquaresPlane(corners);
    expect(found).toMatchObject({ kind: 'plane', maxDeviationMm: expect.closeTo(0.04, 9) as number });
  });

  it('never answers with something that is no number', () => {
    const anything = fc.record({ xMm: fc.double(), yMm: fc.double(), zUm: fc.double() });
    fc.assert(
      fc.property(fc.array(anything, { maxLength: 8 }), (heights) => {
        const found = leastSquaresPlane(heights);
        if (found.kind === 'problem') return;
        expect(Number.isFinite(found.maxDeviationMm)).toBe(true);
        expect(Object.values(found.plane).every(Number.isFinite)).toBe(true);
      }),
    );
  });
});

/** Far enough from a line that both ways of computing keep their digits. */
function wellSpread(heights: readonly HeightPoint[]): boolean {
  const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
  const along = (angle: number): number =>
    range(heights.map(({ xMm, yMm }) => xMm * Math.cos(angle) + yMm * Math.sin(angle)));
  return Array.from({ length: 180 }, (_, i) => (i * Math.PI) / 180).every((angle) => along(angle) > 3);
}
