export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Two-sided 95 %: 0.975 quantile of the normal distribution. */
const Z_95 = 1.959964;

/**
 * Wilson score interval of a share, 0 to 1, without continuity correction. With no trials nothing is known: 0 to 1.
 * @throws RangeError where the counts are no whole numbers, successes exceed trials, or z is not above 0.
 */
export function wilson(successes: number, trials: number, z = Z_95): Interval {
  if (!Number.isSafeInteger(trials) || trials < 0) throw new RangeError(`not a number of trials: ${trials}`);
  if (!Number.isSafeInteger(successes) || successes < 0 || successes > trials) {
    throw new RangeError(`not a number of successes in ${trials} trials: ${successes}`);
  }
  if (!Number.isFinite(z) || z <= 0) throw new RangeError(`not a quantile: ${z}`);
  if (trials === 0) return { low: 0, high: 1 };
  const share = successes / trials;
  const squared = z * z;
  const scale = 1 + squared / trials;
  const centre = (share + squared / (2 * trials)) / scale;
  const half = (z / scale) * Math.sqrt((share * (1 - share)) / trials + squared / (4 * trials * trials));
  // At none and at all the ends are 0 and 1 exactly, which rounding would miss.
  return {
    low: successes === 0 ? 0 : Math.max(0, centre - half),
    high: successes === trials ? 1 : Math.min(1, centre + half),
  };
}
