/** A measured height. Places in mm, height in um; up is away from the board, or from the package of a loose device. */
export interface HeightPoint {
  readonly xMm: number;
  readonly yMm: number;
  readonly zUm: number;
}

/** A plane as the height over the centroid and its slopes. */
export interface Plane {
  readonly centroidXMm: number;
  readonly centroidYMm: number;
  readonly heightMm: number;
  readonly slopeX: number;
  readonly slopeY: number;
}

export interface FlatnessProblem {
  readonly kind: 'problem';
  readonly problem: 'too-few-points' | 'not-a-number' | 'collinear';
  readonly detail: string;
  readonly remedy: string;
}

/** Heights around their centroid, all in mm, in the order given. */
export interface CentredHeights {
  readonly kind: 'heights';
  readonly centroidXMm: number;
  readonly centroidYMm: number;
  readonly points: readonly CentredPoint[];
  /** Standard deviation across the direction in which the points spread least, mm. */
  readonly narrowMm: number;
}

export interface CentredPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Points that spread this much less across than along are one line. House choice. */
const LINE_RATIO = 1e-4;
/** Places further out are no board: they would only drown the others in rounding. House choice, mm and um. */
const FARTHEST = 1e6;

/** Heights made ready for a plane, or why no plane goes through them: fewer than three, no numbers, all on one line. */
export function centredHeights(heights: readonly HeightPoint[]): CentredHeights | FlatnessProblem {
  if (heights.length < 3) {
    return problem('too-few-points', `${heights.length} heights make no plane.`, 'Measure three joints or more.');
  }
  const bad = heights.findIndex(({ xMm, yMm, zUm }) => ![xMm, yMm, zUm].every((v) => Math.abs(v) <= FARTHEST));
  if (bad >= 0) return problem('not-a-number', `Height ${bad} is out of range.`, 'Correct or leave out that point.');
  const centroidXMm = heights.reduce((sum, { xMm }) => sum + xMm, 0) / heights.length;
  const centroidYMm = heights.reduce((sum, { yMm }) => sum + yMm, 0) / heights.length;
  const points = heights.map(({ xMm, yMm, zUm }) => ({ x: xMm - centroidXMm, y: yMm - centroidYMm, z: zUm / 1000 }));
  const { alongMm, narrowMm } = spread(points);
  if (!(narrowMm > LINE_RATIO * alongMm)) {
    return problem('collinear', 'All heights lie on one line.', 'Measure joints that are not all in one row.');
  }
  return { kind: 'heights', centroidXMm, centroidYMm, points, narrowMm };
}

/** Standard deviations along the widest and the narrowest direction. */
function spread(points: readonly CentredPoint[]): { alongMm: number; narrowMm: number } {
  let [xx, xy, yy] = [0, 0, 0];
  for (const { x, y } of points) {
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  const mean = (xx + yy) / 2;
  const major = mean + Math.hypot((xx - yy) / 2, xy);
  const minor = major === 0 ? 0 : (xx * yy - xy * xy) / major;
  const count = points.length;
  return { alongMm: Math.sqrt(major / count), narrowMm: Math.sqrt(Math.max(0, minor) / count) };
}

function problem(code: FlatnessProblem['problem'], detail: string, remedy: string): FlatnessProblem {
  return { kind: 'problem', problem: code, detail, remedy };
}
