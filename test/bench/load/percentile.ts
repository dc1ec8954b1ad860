/**
 * The value that so much of all is not above, by nearest rank: of 100 values the 99th for 0.99. NaN where there is none.
 * @param share above 0, to 1
 */
export function percentile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  // Less a trifle, since 0.07 * 100 is a little more than 7.
  return sorted[Math.max(0, Math.ceil(share * sorted.length - 1e-9) - 1)] ?? NaN;
}
