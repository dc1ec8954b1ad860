import { at } from './trace.js';

/** A slope and the window it was fitted over. */
export interface FittedSlope {
  readonly cPerS: number;
  readonly fromS: number;
  readonly toS: number;
  readonly samples: number;
}

export interface SteepestSlopes {
  readonly rise?: FittedSlope;
  readonly fall?: FittedSlope;
}

const LEAST_SAMPLES = 3;
/** A window must be filled to this share, or a slope at the end of a log would rest on less than it says. */
const LEAST_FILL = 0.8;
/** Times that differ by less than rounding in a decimal log lie in the same window. */
const EPSILON_S = 1e-6;

/**
 * Steepest rise and fall (positive, as far as the curve falls at all) among the least-squares lines through the readings
 * of every window of `windowS` that begins at a reading, holds three at least, is filled and has no stretch of more than
 * `maxGapS` without a reading. Left out where there is no such window. Linear in the number of readings: sums are
 * carried from window to window, about an origin that moves along, so that they stay small.
 */
export function steepestSlopes(
  seconds: Float64Array,
  values: Float64Array,
  windowS: number,
  maxGapS: number,
): SteepestSlopes {
  const sums = new WindowSums();
  let end = 0;
  let lastGapEnd = 0;
  let rise: FittedSlope | undefined;
  let fall: FittedSlope | undefined;
  for (let first = 0; first < values.length; first++) {
    const fromS = at(seconds, first);
    sums.moveTo(fromS);
    while (end < values.length && at(seconds, end) <= fromS + windowS + EPSILON_S) {
      if (end > 0 && at(seconds, end) - at(seconds, end - 1) > maxGapS) lastGapEnd = end;
      sums.add(at(seconds, end), at(values, end), 1);
      end++;
    }
    const toS = at(seconds, end - 1);
    const filled = toS - fromS >= windowS * LEAST_FILL - EPSILON_S;
    if (sums.count >= LEAST_SAMPLES && filled && lastGapEnd <= first) {
      const cPerS = sums.slope();
      if (cPerS > (rise?.cPerS ?? 0)) rise = { cPerS, fromS, toS, samples: sums.count };
      if (-cPerS > (fall?.cPerS ?? 0)) fall = { cPerS: -cPerS, fromS, toS, samples: sums.count };
      rise ??= { cPerS: 0, fromS, toS, samples: sums.count };
      fall ??= { cPerS: 0, fromS, toS, samples: sums.count };
    }
    sums.add(fromS, at(values, first), -1);
  }
  return { ...(rise !== undefined && { rise }), ...(fall !== undefined && { fall }) };
}

class WindowSums {
  count = 0;
  private origin = 0;
  private t = 0;
  private tt = 0;
  private v = 0;
  private tv = 0;

  moveTo(origin: number): void {
    const shift = origin - this.origin;
    this.tt += shift * (shift * this.count - 2 * this.t);
    this.tv -= shift * this.v;
    this.t -= shift * this.count;
    this.origin = origin;
  }

  add(second: number, value: number, sign: 1 | -1): void {
    const time = second - this.origin;
    this.count += sign;
    // An emptied window starts afresh, or a long log would carry its rounding along.
    if (this.count === 0) this.t = this.tt = this.v = this.tv = 0;
    else {
      this.t += sign * time;
      this.tt += sign * time * time;
      this.v += sign * value;
      this.tv += sign * time * value;
    }
  }

  slope(): number {
    const spread = this.count * this.tt - this.t * this.t;
    return spread > 0 ? (this.count * this.tv - this.t * this.v) / spread : 0;
  }
}
