import { at, markAt, READ, Trace, TraceChannel } from './trace.js';

/** Where a channel was at a time: seconds of the trace, C. */
export type TracePoint = readonly [seconds: number, celsius: number];

/** Readings further apart than so many usual steps of the log, and than so many seconds, are not joined by a line. */
const GAP_STEPS = 5;
const GAP_S = 5;

/**
 * A channel with fewer points that looks the same: of each of `buckets` equal stretches of time the first, lowest, highest
 * and last reading, and both readings about every crossing of a line, so that neither a peak nor a crossing moves.
 * @param lines C
 * @returns pieces that are to be drawn as lines, apart where readings are missing
 */
export function thinChannel(
  { seconds }: Pick<Trace, 'seconds'>,
  channel: TraceChannel,
  buckets: number,
  lines: readonly number[],
): TracePoint[][] {
  const read = readRows(seconds, channel);
  const kept = keptRows(seconds, channel.values, read, buckets);
  for (const index of crossings(read, channel.values, lines)) kept.add(index);
  return pieces(read, kept, seconds, channel.values, longestJoinedS(seconds));
}

/** Of the rows `read`, those of the first, lowest, highest and last reading of each of `buckets` equal stretches of time. */
export function keptRows(seconds: Float64Array, values: Float64Array, read: Int32Array, buckets: number): Set<number> {
  if (read.length === 0) return new Set();
  const [from, to] = [at(seconds, 0), at(seconds, seconds.length - 1)];
  return new Set(extremes(read, seconds, values, from, (to - from) / buckets || 1));
}

/** How far apart two readings of a channel may be to be joined by a line, s. */
export function longestJoinedS(seconds: Float64Array): number {
  const spanS = at(seconds, seconds.length - 1) - at(seconds, 0);
  return Math.max(GAP_S, (GAP_STEPS * spanS) / Math.max(1, seconds.length - 1));
}

/** Rows that a channel has a reading in, ascending. */
export function readRows(seconds: Float64Array, { marks }: Pick<TraceChannel, 'marks'>): Int32Array {
  const found = new Int32Array(seconds.length);
  let count = 0;
  for (let index = 0; index < seconds.length; index++) if (markAt(marks, index) === READ) found[count++] = index;
  return found.subarray(0, count);
}

function* extremes(
  read: Int32Array,
  seconds: Float64Array,
  values: Float64Array,
  from: number,
  width: number,
): Generator<number> {
  let bucket = -1;
  let [first, low, high, last] = [-1, -1, -1, -1];
  for (const index of read) {
    const here = Math.floor((at(seconds, index) - from) / width);
    if (here !== bucket) {
      if (bucket >= 0) yield* [first, low, high, last];
      bucket = here;
      [first, low, high] = [index, index, index];
    }
    if (at(values, index) < at(values, low)) low = index;
    if (at(values, index) > at(values, high)) high = index;
    last = index;
  }
  yield* [first, low, high, last];
}

/** Both rows about every crossing of a line, in C, by the readings of `read`. */
export function* crossings(read: Int32Array, values: Float64Array, lines: readonly number[]): Generator<number> {
  let before: number | undefined;
  for (const index of read) {
    if (before !== undefined) {
      const [a, b] = [at(values, before), at(values, index)];
      if (lines.some((line) => a < line !== b < line)) yield* [before, index];
    }
    before = index;
  }
}

function pieces(
  read: Int32Array,
  kept: ReadonlySet<number>,
  seconds: Float64Array,
  values: Float64Array,
  gapS: number,
): TracePoint[][] {
  const found: TracePoint[][] = [];
  let piece: TracePoint[] = [];
  let before = Number.NEGATIVE_INFINITY;
  for (const index of read) {
    const time = at(seconds, index);
    if (time - before > gapS) {
      piece = [];
      found.push(piece);
    }
    if (kept.has(index)) piece.push([time, at(values, index)]);
    before = time;
  }
  return found;
}
