import { Allowed } from '../limits/limit-rule.js';
import { FlatnessProblem, HeightPoint } from './height-map.js';
import { LeastSquaresPlane, leastSquaresPlane } from './least-squares-plane.js';
import { SeatingPlane, seatingPlane } from './seating-plane.js';

export interface FlatnessVerdict {
  readonly kind: 'verdict';
  /** From the seating plane, mm: what is held against the limit. */
  readonly deviationMm: number;
  /** From the least-squares plane, mm: shown beside it. */
  readonly leastSquaresMm: number;
  readonly allowedMm: number | null;
  /** null: no limit for this pitch. */
  readonly passes: boolean | null;
  readonly seating: SeatingPlane;
  readonly leastSquares: LeastSquaresPlane;
  readonly why: string;
}

/**
 * The flatness that a limit allows at a pitch, mm: its one figure, or that of the row of the smallest pitch not below the
 * site's. null where the limit has no such row: a coarser site than any row is not judged by a finer one.
 */
export function allowedFlatnessMm(allowed: Allowed, pitchMm: number): number | null {
  if (typeof allowed === 'number') return allowed;
  let best: { readonly pitchMm: number; readonly max: number } | undefined;
  for (const row of allowed) {
    if (typeof row === 'string' || row.pitchMm < pitchMm) continue;
    if (best === undefined || row.pitchMm < best.pitchMm) best = row;
  }
  return best?.max ?? null;
}

/** A height map against the limit at the site's pitch, mm. The seating plane decides. */
export function judgeFlatness(
  heights: readonly HeightPoint[],
  pitchMm: number,
  allowed: Allowed,
): FlatnessVerdict | FlatnessProblem {
  const seating = seatingPlane(heights);
  if (seating.kind === 'problem') return seating;
  const leastSquares = leastSquaresPlane(heights);
  if (leastSquares.kind === 'problem') return leastSquares;
  const allowedMm = allowedFlatnessMm(allowed, pitchMm);
  const deviationMm = seating.maxDeviationMm;
  const found = `point ${seating.worst} lies ${deviationMm.toFixed(3)} mm below the seating plane`;
  return {
    kind: 'verdict',
    deviationMm,
    leastSquaresMm: leastSquares.maxDeviationMm,
    allowedMm,
    passes: allowedMm === null ? null : deviationMm <= allowedMm,
    seating,
    leastSquares,
    why:
      allowedMm === null
        ? `${found}; no limit covers ${pitchMm} mm pitch`
        : `${found}; ${allowedMm} mm are allowed at ${pitchMm} mm pitch`,
  };
}
