/**
 * The figure itself where it is finite and at least 0.
 * @throws RangeError naming the figure otherwise.
 */
export function nonNegative(value: number, what: string): number {
  if (!Number.isFinite(value) || value < 0) throw new RangeError(`${what} must be a number of 0 or more: ${value}`);
  return value;
}

/**
 * The figure itself where it is finite and above 0.
 * @throws RangeError naming the figure otherwise.
 */
export function positive(value: number, what: string): number {
  if (!Number.isFinite(value) || value <= 0) throw new RangeError(`${what} must be a number above 0: ${value}`);
  return value;
}
