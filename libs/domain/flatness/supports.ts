import { CentredPoint } from './height-map.js';

interface Support {
  readonly index: number;
  readonly point: CentredPoint;
  /** Share of the load: the three sum to 1, none is below 0. */
  readonly weight: number;
}

/** Three heights whose triangle contains the origin. */
export type Supports = readonly [Support, Support, Support];

/** Height over the origin and slopes, all in the unit of the points. */
export interface CentredPlane {
  readonly height: number;
  readonly slopeX: number;
  readonly slopeY: number;
}

/** Height by which a point may stick out and still be called level with the plane, as a share of the largest height. */
const LEVEL = 1e-12;

/**
 * The three heights that would carry a flat part whose weight acts at the origin: the facet over the origin of the upper
 * convex hull. Starts from any triangle around the origin and lets the height that sticks out most take the place of a
 * support; each exchange raises the plane over the origin, so that no triangle comes twice. Undefined where no triangle
 * contains the origin.
 */
export function restingSupports(points: readonly CentredPoint[]): Supports | undefined {
  const level = LEVEL * points.reduce((most, { z }) => Math.max(most, Math.abs(z)), 0);
  let best = firstSupports(points);
  while (best !== undefined) {
    const index = highestAbove(points, planeThrough(best), level);
    const point = index === undefined ? undefined : points[index];
    const next: Supports | undefined =
      index === undefined || point === undefined ? undefined : exchange(best, index, point);
    if (next === undefined || carriedHeight(next) <= carriedHeight(best)) return best;
    best = next;
  }
  return undefined;
}

/** The plane through three supports. */
export function planeThrough(supports: Supports): CentredPlane {
  const [{ point: a }, { point: b }, { point: c }] = supports;
  const area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  const slopeX = ((b.z - a.z) * (c.y - a.y) - (c.z - a.z) * (b.y - a.y)) / area;
  const slopeY = ((b.x - a.x) * (c.z - a.z) - (c.x - a.x) * (b.z - a.z)) / area;
  return { height: a.z - slopeX * a.x - slopeY * a.y, slopeX, slopeY };
}

/** How far a point lies below a plane, straight down. */
export function below(plane: CentredPlane, { x, y, z }: CentredPoint): number {
  return plane.height + plane.slopeX * x + plane.slopeY * y - z;
}

/** One corner, and those nearest to straight across from it on either side: the origin lies between. */
function firstSupports(points: readonly CentredPoint[]): Supports | undefined {
  const reach = (index: number): number => Math.hypot(points[index]?.x ?? 0, points[index]?.y ?? 0);
  let first = 0;
  for (const index of points.keys()) if (reach(index) > reach(first)) first = index;
  const corner = points[first];
  if (corner === undefined) return undefined;
  const bearing = Math.atan2(corner.y, corner.x);
  let second = { index: -1, turn: 0 };
  let third = { index: -1, turn: 2 * Math.PI };
  for (const [index, { x, y }] of points.entries()) {
    const turn = (Math.atan2(y, x) - bearing + 4 * Math.PI) % (2 * Math.PI);
    if (turn < Math.PI && turn > second.turn) second = { index, turn };
    if (turn >= Math.PI && turn < third.turn) third = { index, turn };
  }
  return loaded([first, second.index, third.index], points);
}

function loaded(indices: readonly [number, number, number], points: readonly CentredPoint[]): Supports | undefined {
  const [a, b, c] = [points[indices[0]], points[indices[1]], points[indices[2]]];
  if (a === undefined || b === undefined || c === undefined) return undefined;
  const weights = shares([a, b, c], { x: 0, y: 0 });
  if (weights === undefined || weights.some((weight) => weight < 0)) return undefined;
  return [
    { index: indices[0], point: a, weight: weights[0] },
    { index: indices[1], point: b, weight: weights[1] },
    { index: indices[2], point: c, weight: weights[2] },
  ];
}

type Corners = readonly [CentredPoint, CentredPoint, CentredPoint];

/** How a place is made up of three corners; undefined where these are on one line. */
function shares([a, b, c]: Corners, at: { x: number; y: number }): readonly [number, number, number] | undefined {
  const area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
  if (area === 0) return undefined;
  const ofB = ((at.x - a.x) * (c.y - a.y) - (c.x - a.x) * (at.y - a.y)) / area;
  const ofC = ((b.x - a.x) * (at.y - a.y) - (at.x - a.x) * (b.y - a.y)) / area;
  return [1 - ofB - ofC, ofB, ofC];
}

/** The height over the origin as the supports carry it. */
function carriedHeight(supports: Supports): number {
  return supports.reduce((sum, { weight, point }) => sum + weight * point.z, 0);
}

function highestAbove(points: readonly CentredPoint[], plane: CentredPlane, level: number): number | undefined {
  let highest: number | undefined;
  let most = level;
  for (const [index, point] of points.entries()) {
    const above = -below(plane, point);
    if (above > most) [highest, most] = [index, above];
  }
  return highest;
}

/** A height takes load off the three until one of them carries none: that one leaves, so the origin stays between. */
function exchange(supports: Supports, index: number, point: CentredPoint): Supports | undefined {
  const relief = shares([supports[0].point, supports[1].point, supports[2].point], point);
  if (relief === undefined) return undefined;
  let leaving = -1;
  let load = Infinity;
  for (const [i, { weight }] of supports.entries()) {
    const share = relief[i] ?? 0;
    if (share > 0 && weight / share < load) [leaving, load] = [i, weight / share];
  }
  if (leaving < 0) return undefined;
  const entering: Support = { index, point, weight: load };
  const after = (i: 0 | 1 | 2): Support => {
    const stays = { ...supports[i], weight: Math.max(0, supports[i].weight - load * relief[i]) };
    return i === leaving ? entering : stays;
  };
  return [after(0), after(1), after(2)];
}
