import { at } from './trace.js';

/** A stretch at or above the line. `seconds` leaves out the short dips in it, so it may be less than its length. */
export interface TimeAbove {
  readonly fromS: number;
  readonly toS: number;
  readonly seconds: number;
}

export interface AboveLine {
  readonly seconds: number;
  readonly excursions: readonly TimeAbove[];
  /** Length of the stretches without a reading that begin or end at or above the line: not counted, and not known. */
  readonly unseenSeconds: number;
}

export interface LineRules {
  readonly maxGapS: number;
  readonly dipS: number;
  readonly dipC: number;
}

interface OpenExcursion {
  fromS: number;
  toS: number;
  seconds: number;
  /** Lowest reading since it was last above. */
  dipToC: number;
  /** A stretch without readings came after it: what follows is another. */
  closed: boolean;
}

/**
 * Time at or above a line, crossings found by straight lines between neighbouring readings. A stretch whose ends both
 * lie exactly on the line counts whole; one reading that only touches the line is an excursion of 0 s. Stretches longer
 * than `maxGapS` are not drawn through. Excursions parted by a dip that is both shorter than `dipS` and shallower
 * than `dipC` (noise about the line) are one.
 */
export function timeAbove(seconds: Float64Array, values: Float64Array, lineC: number, rules: LineRules): AboveLine {
  const excursions: OpenExcursion[] = [];
  let unseenSeconds = 0;
  let before = 0;
  let valueBefore = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < values.length; index++) {
    const time = at(seconds, index);
    const value = at(values, index);
    const open = excursions.at(-1);
    if (index > 0 && time - before > rules.maxGapS) {
      if (value >= lineC || valueBefore >= lineC) unseenSeconds += time - before;
      if (open !== undefined) open.closed = true;
      if (value >= lineC) extend(excursions, time, time, lineC, rules);
    } else if (value >= lineC) {
      const fromS =
        index === 0 ? time : valueBefore >= lineC ? before : crossing(before, valueBefore, time, value, lineC);
      extend(excursions, fromS, time, lineC, rules);
    } else if (valueBefore >= lineC) {
      extend(excursions, before, crossing(before, valueBefore, time, value, lineC), lineC, rules);
    }
    if (value < lineC && open !== undefined) open.dipToC = Math.min(open.dipToC, value);
    before = time;
    valueBefore = value;
  }
  return {
    seconds: excursions.reduce((sum, excursion) => sum + excursion.seconds, 0),
    excursions: excursions.map(({ fromS, toS, seconds: above }) => ({ fromS, toS, seconds: above })),
    unseenSeconds,
  };
}

function extend(excursions: OpenExcursion[], fromS: number, toS: number, lineC: number, rules: LineRules): void {
  const last = excursions.at(-1);
  const noise = last !== undefined && fromS - last.toS < rules.dipS && last.dipToC > lineC - rules.dipC;
  if (last !== undefined && !last.closed && (fromS <= last.toS || noise)) {
    last.toS = toS;
    last.seconds += toS - fromS;
    last.dipToC = lineC;
    return;
  }
  excursions.push({ fromS, toS, seconds: toS - fromS, dipToC: lineC, closed: false });
}

function crossing(fromS: number, fromC: number, toS: number, toC: number, lineC: number): number {
  return fromS + ((lineC - fromC) / (toC - fromC)) * (toS - fromS);
}

/** The time above alone, for where nobody asks for the excursions. */
export function secondsAtOrAbove(seconds: Float64Array, values: Float64Array, lineC: number, maxGapS: number): number {
  let total = 0;
  for (let index = 1; index < values.length; index++) {
    const before = at(values, index - 1);
    const value = at(values, index);
    if (before < lineC && value < lineC) continue;
    const lengthS = at(seconds, index) - at(seconds, index - 1);
    if (lengthS > maxGapS) continue;
    const low = Math.min(before, value);
    total += low >= lineC ? lengthS : (lengthS * (Math.max(before, value) - lineC)) / (Math.max(before, value) - low);
  }
  return total;
}

/** Time within a band, both ends included, up to a moment; by the same straight lines. */
export function timeWithin(
  seconds: Float64Array,
  values: Float64Array,
  band: { readonly fromC: number; readonly toC: number; readonly untilS: number; readonly maxGapS: number },
): number {
  let total = 0;
  for (let index = 1; index < values.length && at(seconds, index) <= band.untilS; index++) {
    const lengthS = at(seconds, index) - at(seconds, index - 1);
    if (lengthS > band.maxGapS) continue;
    const low = Math.min(at(values, index - 1), at(values, index));
    const high = Math.max(at(values, index - 1), at(values, index));
    if (low > band.toC || high < band.fromC) continue;
    const share = high === low ? 1 : (Math.min(high, band.toC) - Math.max(low, band.fromC)) / (high - low);
    total += share * lengthS;
  }
  return total;
}

/** The last time before `untilS` that the curve rose from the line or from below it; undefined where it did not. */
export function lastRiseThrough(
  seconds: Float64Array,
  values: Float64Array,
  lineC: number,
  untilS: number,
): number | undefined {
  let crossedS: number | undefined;
  for (let index = 1; index < values.length && at(seconds, index) <= untilS; index++) {
    if (at(values, index - 1) > lineC || at(values, index) <= lineC) continue;
    crossedS = crossing(at(seconds, index - 1), at(values, index - 1), at(seconds, index), at(values, index), lineC);
  }
  return crossedS;
}
