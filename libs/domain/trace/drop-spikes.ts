import { at } from './trace.js';
import { TraceRules } from './trace-rules.js';

/** Readings that were kept, and how many were not. */
export interface Kept {
  readonly seconds: Float64Array;
  readonly values: Float64Array;
  readonly dropped: number;
}

/**
 * Drops jumps there and back again, judged against the last reading kept and the next one. Equal readings in a row are
 * one: loggers repeat a reading until they have a new one. At either end, where nothing lies beyond, the neighbours
 * must agree with one another.
 */
export function dropSpikes(seconds: Float64Array, values: Float64Array, rules: TraceRules): Kept {
  const drop: [number, number][] = [];
  const length = values.length;
  const jump = (from: number, to: number): number => {
    const stepC = at(values, to) - at(values, from);
    const allowedC = rules.spikeFloorC + rules.spikeCPerS * Math.abs(at(seconds, to) - at(seconds, from));
    return Math.abs(stepC) > allowedC ? stepC : 0;
  };
  let kept = -1;
  for (let first = 0; first < length;) {
    let next = first + 1;
    while (next < length && at(values, next) === at(values, first)) next++;
    const brief = at(seconds, next - 1) - at(seconds, first) <= rules.spikeMaxS;
    const before = kept < 0 ? 0 : jump(kept, first);
    const after = next >= length ? 0 : jump(next, first);
    const atStart = kept < 0 && next + 1 < length && after !== 0 && jump(next, next + 1) === 0;
    const atEnd = next >= length && before !== 0 && kept > 0 && jump(kept - 1, kept) === 0;
    if (brief && (before * after > 0 || atStart || atEnd)) drop.push([first, next]);
    else kept = next - 1;
    first = next;
  }
  return leaveOut(seconds, values, drop);
}

/** The arrays without the stretches [from, to), which come in order. */
export function leaveOut(seconds: Float64Array, values: Float64Array, stretches: readonly [number, number][]): Kept {
  const dropped = stretches.reduce((sum, [from, to]) => sum + to - from, 0);
  if (dropped === 0) return { seconds, values, dropped };
  const times = new Float64Array(values.length - dropped);
  const left = new Float64Array(values.length - dropped);
  let start = 0;
  let filled = 0;
  for (const [from, to] of [...stretches, [values.length, values.length] as const]) {
    times.set(seconds.subarray(start, from), filled);
    left.set(values.subarray(start, from), filled);
    filled += from - start;
    start = to;
  }
  return { seconds: times, values: left, dropped };
}
