import { centredHeights, FlatnessProblem, HeightPoint, Plane } from './height-map.js';
import { below, planeThrough, restingSupports } from './supports.js';

export interface SeatingPlane {
  readonly kind: 'plane';
  readonly plane: Plane;
  /** Places in the list of the three heights it rests on. */
  readonly supports: readonly [number, number, number];
  /** How far each height lies below the plane, at right angles to it, mm. Never below 0. */
  readonly deviationsMm: readonly number[];
  readonly maxDeviationMm: number;
  /** Place in the list of the lowest height. */
  readonly worst: number;
  readonly rule: string;
}

/** The part's weight is taken to act this share of the narrow spread beside the centroid, along a skew direction. */
const ASIDE = { x: 1e-7, y: 0.618e-7 };

/**
 * The plane on which a flat part would rest, and how far each height lies below it. It goes through the three heights
 * whose triangle contains the centroid of all, and no height rises above it. The centroid is that of the heights' places.
 * Heights that make no plane come back as a typed problem.
 */
export function seatingPlane(heights: readonly HeightPoint[]): SeatingPlane | FlatnessProblem {
  const centred = centredHeights(heights);
  if (centred.kind === 'problem') return centred;
  const { centroidXMm, centroidYMm, narrowMm } = centred;
  // On a regular grid the centroid lies on joints and on lines through them; a hair aside no triangle is a draw.
  const [asideX, asideY] = [ASIDE.x * narrowMm, ASIDE.y * narrowMm];
  const points = centred.points.map(({ x, y, z }) => ({ x: x - asideX, y: y - asideY, z }));
  const supports = restingSupports(points);
  if (supports === undefined) {
    const detail = 'No three heights lie around the centroid.';
    return { kind: 'problem', problem: 'collinear', detail, remedy: 'Measure joints that are not all in one row.' };
  }
  const plane = planeThrough(supports);
  const { slopeX, slopeY } = plane;
  const cosine = 1 / Math.hypot(1, slopeX, slopeY);
  const deviationsMm = points.map((point) => Math.max(0, below(plane, point) * cosine));
  const worst = deviationsMm.reduce((most, deviation, i) => (deviation > (deviationsMm[most] ?? 0) ? i : most), 0);
  const heightMm = plane.height - slopeX * asideX - slopeY * asideY;
  return {
    kind: 'plane',
    plane: { centroidXMm, centroidYMm, heightMm, slopeX, slopeY },
    supports: [supports[0].index, supports[1].index, supports[2].index],
    deviationsMm,
    maxDeviationMm: deviationsMm[worst] ?? 0,
    worst,
    rule: 'three heights around the centroid with no height above their plane',
  };
}
