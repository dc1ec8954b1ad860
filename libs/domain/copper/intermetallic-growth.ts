/**
 * How much thicker the intermetallic of a joint is after n equal reflow passes than after one, as a factor: n^0.613
 * (Intermetallics 96 (2018) 1, published; given for up to 6 passes, beyond which the law is carried on).
 * @throws RangeError where the passes are no whole number of 1 or more.
 */
export function intermetallicGrowth(passes: number): number {
  if (!Number.isSafeInteger(passes) || passes < 1) throw new RangeError(`not a count of reflow passes: ${passes}`);
  return passes ** 0.613;
}
