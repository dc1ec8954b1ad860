export interface BowAndTwist {
  /** Deviation as a percentage of the diagonal. */
  readonly percent: number;
  readonly allowedPct: number;
  readonly allowedMm: number;
  readonly passes: boolean;
  readonly source: string;
}

/** Percent of the length: boards that carry surface-mount parts, and all others. As published. */
const ALLOWED_PCT = { surfaceMount: 0.75, other: 1.5 };

/**
 * Bow or twist of a board, percent of its diagonal, against 0.75 % with surface-mount parts and 1.5 % without (published).
 * Lengths in mm: the diagonal, and the most that the board lifts off a flat table.
 * @throws RangeError where the diagonal is not above 0 or the deviation is negative.
 */
export function bowAndTwist(diagonalMm: number, deviationMm: number, surfaceMount = true): BowAndTwist {
  if (!Number.isFinite(diagonalMm) || diagonalMm <= 0) throw new RangeError(`not a diagonal in mm: ${diagonalMm}`);
  if (!Number.isFinite(deviationMm) || deviationMm < 0) throw new RangeError(`not a deviation in mm: ${deviationMm}`);
  const allowedPct = surfaceMount ? ALLOWED_PCT.surfaceMount : ALLOWED_PCT.other;
  const allowedMm = (allowedPct * diagonalMm) / 100;
  const percent = (100 * deviationMm) / diagonalMm;
  const source = 'Bow and twist 0.75 % with surface-mount parts, 1.5 % without, as published.';
  return { percent, allowedPct, allowedMm, passes: deviationMm <= allowedMm, source };
}
