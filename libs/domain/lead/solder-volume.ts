import { nonNegative, positive } from './checked-figure.js';

/** Volume of a whole ball, mm3. Diameter in mm. @throws RangeError where it is not above 0. */
export function ballVolumeMm3(diameterMm: number): number {
  return (Math.PI / 6) * positive(diameterMm, 'ball diameter in mm') ** 3;
}

/** Area of a round pad, mm2. Diameter in mm. @throws RangeError where it is not above 0. */
export function padAreaMm2(diameterMm: number): number {
  return (Math.PI / 4) * positive(diameterMm, 'pad diameter in mm') ** 2;
}

/** Volume of an even film over a round pad, mm3. Film in um, pad in mm. @throws RangeError on figures that do not fit. */
export function filmVolumeMm3(filmUm: number, padDiameterMm: number): number {
  return (padAreaMm2(padDiameterMm) * nonNegative(filmUm, 'film thickness in um')) / 1000;
}

/**
 * Volume of what a pulled device leaves: a cap of a sphere over the whole pad, mm3. Height in um at the crown, pad in mm.
 * @throws RangeError on figures that do not fit.
 */
export function capVolumeMm3(capHeightUm: number, padDiameterMm: number): number {
  const heightMm = nonNegative(capHeightUm, 'cap height in um') / 1000;
  const radiusMm = positive(padDiameterMm, 'pad diameter in mm') / 2;
  return ((Math.PI * heightMm) / 6) * (3 * radiusMm ** 2 + heightMm ** 2);
}
