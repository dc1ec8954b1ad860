/** A knot of the temperature that drives a heat: gas, blade, bath or oven zone, as a board sees it. */
export type Knot = readonly [atS: number, driveC: number];

/** A noise-free curve of one bead, a point every `STEP_S` seconds, C. */
export type HeatCurve = readonly number[];

const STEP_S = 0.05;
export const ROOM_C = 23;

/**
 * The temperature of a mass that follows the drive with a first-order lag, its bead after it with another of a quarter
 * of that, scaled so that the peak is `peakC`: how far a spot gets depends on where it sits in the flow of heat.
 */
export function heatCurve(knots: readonly Knot[], lagS: number, peakC: number): HeatCurve {
  const points: number[] = [];
  const lastS = knots.at(-1)?.[0] ?? 0;
  let massC = ROOM_C;
  let beadC = ROOM_C;
  for (let step = 0; step * STEP_S <= lastS; step++) {
    massC += ((driveAt(knots, step * STEP_S) - massC) * STEP_S) / lagS;
    beadC += ((massC - beadC) * STEP_S * 4) / lagS;
    points.push(beadC);
  }
  const highestC = points.reduce((high, point) => Math.max(high, point), ROOM_C);
  const scale = (peakC - ROOM_C) / (highestC - ROOM_C);
  return points.map((point) => ROOM_C + (point - ROOM_C) * scale);
}

/** Time a curve spends at or above a line, counted in its own fine steps, s. */
export function secondsAbove(curve: HeatCurve, lineC: number): number {
  return curve.filter((pointC) => pointC >= lineC).length * STEP_S;
}

export function curveAt(curve: HeatCurve, atS: number): number {
  return curve[Math.min(Math.round(atS / STEP_S), curve.length - 1)] ?? ROOM_C;
}

function driveAt(knots: readonly Knot[], atS: number): number {
  const next = knots.findIndex(([knotS]) => knotS >= atS);
  const [toS, toC] = knots[next] ?? [0, ROOM_C];
  const [fromS, fromC] = knots[next - 1] ?? [toS, toC];
  return toS === fromS ? toC : fromC + ((toC - fromC) * (atS - fromS)) / (toS - fromS);
}
