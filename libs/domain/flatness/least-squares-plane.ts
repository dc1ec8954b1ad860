import { centredHeights, FlatnessProblem, HeightPoint, Plane } from './height-map.js';

export interface LeastSquaresPlane {
  readonly kind: 'plane';
  readonly plane: Plane;
  /** How far each height lies above (+) or below (-) the plane, mm. */
  readonly deviationsMm: readonly number[];
  /** Highest less lowest deviation, mm: to be held against a limit. */
  readonly maxDeviationMm: number;
  readonly rule: string;
}

/** The plane from which the heights, measured straight up, deviate least in the mean square. */
export function leastSquaresPlane(heights: readonly HeightPoint[]): LeastSquaresPlane | FlatnessProblem {
  const centred = centredHeights(heights);
  if (centred.kind === 'problem') return centred;
  const { points, centroidXMm, centroidYMm } = centred;
  const heightMm = points.reduce((sum, { z }) => sum + z, 0) / points.length;
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (const { x, y, z } of points) {
    const up = z - heightMm;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * up;
    yz += y * up;
  }
  const determinant = xx * yy - xy * xy;
  const slopeX = (xz * yy - yz * xy) / determinant;
  const slopeY = (yz * xx - xz * xy) / determinant;
  const deviationsMm = points.map(({ x, y, z }) => z - heightMm - slopeX * x - slopeY * y);
  const { highest, lowest } = deviationsMm.reduce(
    (range, deviation) => ({
      highest: Math.max(range.highest, deviation),
      lowest: Math.min(range.lowest, deviation),
    }),
    { highest: 0, lowest: 0 },
  );
  return {
    kind: 'plane',
    plane: { centroidXMm, centroidYMm, heightMm, slopeX, slopeY },
    deviationsMm,
    maxDeviationMm: highest - lowest,
    rule: 'highest less lowest deviation from the least-squares plane',
  };
}
