import { PartData } from '../setup/setup-data.js';

/** What of a part decides how it takes up and gives off moisture. Lengths in mm, of the body without balls. */
export interface MoisturePart {
  readonly msl: PartData['msl'];
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  /** Area-array package on a laminate. */
  readonly bga: boolean;
  /** Stacked die, or a plane that keeps moisture from leaving through the substrate. Absent: none declared. */
  readonly moistureBarrier?: boolean;
}

/**
 * A part of the setup as moisture sees it. The setup does not say which package it is; a part with a ball alloy is
 * taken to be a BGA (an assumption that matters for bodies of 1 mm to 3.1 mm).
 */
export function moisturePart(part: PartData): MoisturePart {
  const { msl, lengthMm, widthMm, thicknessMm, moistureBarrier } = part;
  const body = { msl, lengthMm, widthMm, thicknessMm, bga: true };
  return moistureBarrier === undefined ? body : { ...body, moistureBarrier };
}
