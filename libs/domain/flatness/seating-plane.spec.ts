import fc from 'fast-check';
import { HeightPoint } from './height-map.js';
import { seatingPlane, SeatingPlane } from './seating-plane.js';

function plane(heights: readonly HeightPoint[]): SeatingPlane {
  const found = seatingPlane(heights);
  if (found.kind === 'problem') throw new Error(found.detail);
  return found;
}

function grid(side: number, zUm: (x: number, y: number) => number): HeightPoint[] {
  const places = Array.from({ length: side * side }, (_, i) => ({ xMm: i % side, yMm: Math.floor(i / side) }));
  return places.map(({ xMm, yMm }) => ({ xMm, yMm, zUm: zUm(xMm, yMm) }));
}

/** By trying every triangle: the highest over the centroid of those that contain it. */
function heightByTrial(heights: readonly HeightPoint[]): number {
  const count = heights.length;
  const cx = heights.reduce((sum, { xMm }) => sum + xMm, 0) / count;
  const cy = heights.reduce((sum, { yMm }) => sum + yMm, 0) / count;
  const cross = (p: HeightPoint, q: HeightPoint): number => (p.xMm - cx) * (q.yMm - cy) - (q.xMm - cx) * (p.yMm - cy);
  let best = -Infinity;
  for (const [i, a] of heights.entries()) {
    for (const [j, b] of heights.entries()) {
      for (const c of j > i ? heights.slice(j + 1) : []) {
        const [ofA, ofB, ofC] = [cross(b, c), cross(c, a), cross(a, b)];
        const area = ofA + ofB + ofC;
        if (Math.abs(area) < 1e-9 || [ofA, ofB, ofC].some((part) => part / area < -1e-12)) continue;
        best = Math.max(best, (ofA * a.zUm + ofB * b.zUm + ofC * c.zUm) / area / 1000);
      }
    }
  }
  return best;
}

const heightMap = fc.array(
  fc.record({
    xMm: fc.integer({ min: 0, max: 12 }),
    yMm: fc.integer({ min: 0, max: 12 }),
    zUm: fc.integer({ min: -100, max: 100 }),
  }),
  { minLength: 3, maxLength: 14 },
);

describe('the seating plane', () => {
  it('finds a tilted plane flat', () => {
    const found = plane(grid(5, (x, y) => 3 * x - 2 * y + 7));
    expect(found.maxDeviationMm).toBeCloseTo(0, 9);
    expect(found.plane.slopeX).toBeCloseTo(0.003, 9);
    expect(found.plane.slopeY).toBeCloseTo(-0.002, 9);
  });

  it('rests on the high corners of a bowl, and measures its bottom', () => {
    const found = plane(grid(5, (x, y) => 10 * ((x - 2) ** 2 + (y - 2) ** 2)));
    expect(found.maxDeviationMm).toBeCloseTo(0.08, 9);
    expect(found.worst).toBe(12);
    expect(found.supports.every((index) => [0, 4, 20, 24].includes(index))).toBe(true);
  });

  it('rocks on a high joint in the middle: that joint and two others carry it', () => {
    const found = plane(grid(3, (x, y) => (x === 1 && y === 1 ? 60 : 0)));
    expect(found.supports).toContain(4);
    expect(found.plane.heightMm).toBeCloseTo(0.06, 6);
  });

  it('is not fooled by a high joint that stands alone at one side', () => {
    // The three highest heights are all at x = 0; a part on them would tip over.
    const heights = grid(4, (x) => (x === 0 ? 50 : 0));
    const found = plane(heights);
    expect(found.plane.slopeX).toBeCloseTo(-0.05 / 3, 9);
    expect(found.maxDeviationMm).toBeCloseTo((0.05 * 2) / 3 / Math.hypot(1, 0.05 / 3), 6);
  });

  it('is as high over the centroid as any triangle of heights around it, none of them sticking out', () => {
    fc.assert(
      fc.property(heightMap, (heights) => {
        const found = seatingPlane(heights);
        if (found.kind === 'problem') return;
        expect(found.plane.heightMm).toBeCloseTo(heightByTrial(heights), 6);
        for (const { xMm, yMm, zUm } of heights) {
          const { heightMm, slopeX, slopeY, centroidXMm, centroidYMm } = found.plane;
          const at = heightMm + slopeX * (xMm - centroidXMm) + slopeY * (yMm - centroidYMm);
          expect(zUm / 1000).toBeLessThanOrEqual(at + 1e-9);
        }
        for (const index of found.supports) expect(found.deviationsMm[index]).toBeCloseTo(0, 9);
      }),
      { numRuns: 300 },
    );
  });

  it('measures the same at any place, tilt and order', () => {
    fc.assert(
      fc.property(
        heightMap,
        fc.integer({ min: -50, max: 50 }),
        fc.integer({ min: -5, max: 5 }),
        (heights, move, tilt) => {
          const found = seatingPlane(heights);
          const moved = heights.map(({ xMm, yMm, zUm }) => ({
            xMm: xMm + move,
            yMm: yMm - move,
            zUm: zUm + move + tilt * xMm,
          }));
          const again = seatingPlane(moved.reverse());
          if (found.kind === 'problem' || again.kind === 'problem') expect(again.kind).toBe(found.kind);
          else
            expect(again.plane.heightMm).toBeCloseTo(
              found.plane.heightMm + (move + tilt * found.plane.centroidXMm) / 1000,
              6,
            );
        },
      ),
    );
  });

  it('handles a large array quickly', () => {
    const found = plane(grid(50, (x, y) => ((x * 7919 + y * 104729) % 97) - (x * y) / 50));
    expect(found.maxDeviationMm).toBeGreaterThan(0);
  });

  it('says why where heights make no plane', () => {
    const row = [0, 1, 2, 3].map((xMm) => ({ xMm, yMm: 2 * xMm, zUm: xMm }));
    expect(seatingPlane(row)).toMatchObject({ problem: 'collinear' });
    expect(seatingPlane(row.slice(0, 2))).toMatchObject({ problem: 'too-few-points' });
    expect(seatingPlane(row.map((point) => ({ ...point, xMm: 1, yMm: 1 })))).toMatchObject({ problem: 'collinear' });
    const bad = { xMm: 1, yMm: Number.NaN, zUm: 0 };
    expect(seatingPlane([...grid(2, () => 0), bad])).toMatchObject({ problem: 'not-a-number' });
  });
});
