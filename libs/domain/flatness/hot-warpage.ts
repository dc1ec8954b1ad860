/** Warpage that a package may show while it is hot, by pitch. Figures in mm. */
export interface HotWarpage {
  readonly allowedMm: number;
  readonly pitchMm: number;
  readonly source: string;
}

/** ED-7306: the row of 1.0 mm as published, the others from memory. */
const ROWS: readonly (readonly [pitchMm: number, allowedMm: number])[] = [
  [0.4, 0.1],
  [0.5, 0.11],
  [0.65, 0.14],
  [0.8, 0.17],
  [1, 0.22],
  [1.27, 0.25],
];

/**
 * The warpage that a package of this pitch may show at reflow: the row of the coarsest pitch not above it, so that a
 * pitch between two rows takes the stricter. Undefined below the finest row.
 * @throws RangeError where the pitch is no positive number.
 */
export function hotWarpage(pitchMm: number): HotWarpage | undefined {
  if (!Number.isFinite(pitchMm) || pitchMm <= 0) throw new RangeError(`not a pitch in mm: ${pitchMm}`);
  const row = ROWS.findLast(([rowPitchMm]) => rowPitchMm <= pitchMm);
  if (row === undefined) return undefined;
  const source = row[0] === 1 ? 'ED-7306, published' : 'ED-7306, from memory';
  return { pitchMm: row[0], allowedMm: row[1], source };
}
