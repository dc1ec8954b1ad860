import { at, rowAt } from './trace.js';

/** Rows of a log in order of time: `rows[i]` is the row that was read at `seconds[i]`. */
export interface OrderedTimes {
  readonly rows: Int32Array;
  readonly seconds: Float64Array;
  readonly notes: readonly string[];
}

/** Times that cannot be put in order; `row` counts from 0. */
export interface Disorder {
  readonly row: number;
  readonly detail: string;
}

const FEW_STEPS_BACK = 5;
const FEW_ROWS = 10;

/**
 * Puts the rows of a log in order. A file written backwards is turned round; single rows out of place are sorted in;
 * repeated times are set right. A clock that starts again, so that two stretches of time lie over each other, is a
 * disorder: which of the two was meant is not for us to say.
 */
export function orderTimes(raw: Float64Array): OrderedTimes | Disorder {
  const notes: string[] = [];
  const rows = new Int32Array(raw.length).map((_, index) => index);
  const asWritten = countSteps(raw, rows);
  if (asWritten.back > asWritten.forward) {
    rows.reverse();
    notes.push('rows run backwards in time; read from the last to the first');
  }
  const { back, outOfPlace, firstBack } = countSteps(raw, rows);
  if (back > 0) {
    if (back <= FEW_STEPS_BACK && outOfPlace > Math.max(FEW_ROWS, raw.length / 10)) {
      return { row: rowAt(rows, firstBack), detail: `time steps back and starts again (${outOfPlace} rows overlap)` };
    }
    rows.sort((a, b) => at(raw, a) - at(raw, b) || a - b);
    notes.push(`times step back ${back} times; rows were sorted by time`);
  }
  const seconds = raw.map((_, index) => at(raw, rowAt(rows, index)));
  return settleRepeats(rows, seconds, notes);
}

interface Steps {
  readonly forward: number;
  readonly back: number;
  /** Rows earlier than one before them. */
  readonly outOfPlace: number;
  readonly firstBack: number;
}

function countSteps(raw: Float64Array, rows: Int32Array): Steps {
  let forward = 0;
  let back = 0;
  let outOfPlace = 0;
  let firstBack = 0;
  let latest = Number.NEGATIVE_INFINITY;
  let previous = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < rows.length; index++) {
    const time = at(raw, rowAt(rows, index));
    if (time < previous) {
      if (back === 0) firstBack = index;
      back++;
    }
    if (time > previous) forward++;
    if (time < latest) outOfPlace++;
    latest = Math.max(latest, time);
    previous = time;
  }
  return { forward, back, outOfPlace, firstBack };
}

/** Start of every run of equal times, and one past the end. */
function groupStarts(seconds: Float64Array): number[] {
  const starts: number[] = [];
  for (let index = 0; index < seconds.length; index++) {
    if (index === 0 || at(seconds, index) !== at(seconds, index - 1)) starts.push(index);
  }
  return [...starts, seconds.length];
}

/**
 * Where at least half of the times stand more than once, the clock is coarser than the sampling: the rows of a tick are
 * spread evenly over it. Otherwise a time that stands twice is a row written twice, and the last one is kept.
 */
function settleRepeats(rows: Int32Array, seconds: Float64Array, notes: string[]): OrderedTimes | Disorder {
  const starts = groupStarts(seconds);
  const groups = starts.length - 1;
  if (groups === seconds.length) return { rows, seconds, notes };
  if (groups < 2) return { row: 0, detail: 'every row has the same time' };
  const sizes = starts.slice(1).map((end, group) => end - (starts[group] ?? 0));
  const repeated = sizes.filter((size) => size > 1).length;
  if (repeated * 2 >= groups) {
    const spread = spreadTicks(seconds, starts, sizes);
    notes.push(
      `the clock is coarser than the sampling (${median(sizes)} rows a tick); rows spread evenly over each tick`,
    );
    return { rows, seconds: spread, notes };
  }
  notes.push(`${repeated} times stand more than once; the last row of each was kept`);
  const kept = starts.slice(1).map((end) => end - 1);
  return {
    rows: Int32Array.from(kept, (index) => rowAt(rows, index)),
    seconds: Float64Array.from(kept, (index) => at(seconds, index)),
    notes,
  };
}

function spreadTicks(seconds: Float64Array, starts: readonly number[], sizes: readonly number[]): Float64Array {
  const ticks = sizes.map((_, group) => at(seconds, starts[group] ?? 0));
  const tickS = median(ticks.slice(1).map((tick, group) => tick - (ticks[group] ?? 0)));
  const usual = median(sizes);
  const spread = new Float64Array(seconds.length);
  sizes.forEach((size, group) => {
    const tick = ticks[group] ?? 0;
    const widthS = Math.min(tickS, (ticks[group + 1] ?? Number.POSITIVE_INFINITY) - tick);
    const first = group === 0;
    const slots = first || group === sizes.length - 1 ? Math.max(size, usual) : size;
    // A log that starts in the middle of a tick holds the end of it.
    const skipped = first ? slots - size : 0;
    for (let row = 0; row < size; row++) {
      spread[(starts[group] ?? 0) + row] = tick + ((skipped + row) * widthS) / slots;
    }
  });
  return spread;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
