import { dropSpikes, Kept, leaveOut } from './drop-spikes.js';
import { at, markAt, OPEN, READ, TraceChannel } from './trace.js';
import { TraceRules } from './trace-rules.js';

/** A stretch at the top of a scale that the curve ran into and out of: the true figure may have been higher. */
interface Saturation {
  readonly atC: number;
  readonly seconds: number;
}

/** The readings of a channel that are worth using, and what became of the others. Times in s, values in C. */
export interface CleanChannel {
  readonly name: string;
  readonly seconds: Float64Array;
  readonly values: Float64Array;
  /** Rows of the trace. */
  readonly count: number;
  readonly dropped: DroppedSamples;
  readonly saturated?: Saturation;
  /** The figure most of the dropped readings stood at, where there is one: what an open input rests at. */
  readonly restsAtC?: number;
}

export interface DroppedSamples {
  /** Empty cells and words for nothing. */
  readonly missing: number;
  /** Marked as open by the logger, or resting at the top of a scale. */
  readonly open: number;
  readonly outOfRange: number;
  readonly spikes: number;
}

const SAME_C = 0.05;
const PEGGED_ROWS = 3;
/** A step into the top of a scale larger than this is a contact lost, a smaller one a curve that ran into it. */
const CONTACT_LOST_C = 50;

/** Sorts out the readings of one channel: missing, open, out of range, resting at a full scale, spikes. */
export function cleanChannel(seconds: Float64Array, channel: TraceChannel, rules: TraceRules): CleanChannel {
  const times = new Float64Array(seconds.length);
  const values = new Float64Array(seconds.length);
  let used = 0;
  let open = 0;
  let outOfRange = 0;
  const outside = new Map<number, number>();
  for (let row = 0; row < seconds.length; row++) {
    const mark = markAt(channel.marks, row);
    const value = at(channel.values, row);
    if (mark === OPEN) open++;
    if (mark !== READ) continue;
    if (value < rules.plausibleFromC || value > rules.plausibleToC) {
      outOfRange++;
      const rounded = Math.round(value);
      outside.set(rounded, (outside.get(rounded) ?? 0) + 1);
      continue;
    }
    times[used] = at(seconds, row);
    values[used] = value;
    used++;
  }
  const missing = seconds.length - used - open - outOfRange;
  const pegged = dropPegged(times.subarray(0, used), values.subarray(0, used), rules);
  const kept = dropSpikes(pegged.seconds, pegged.values, rules);
  const restsAtC = pegged.restsAtC ?? usual(outside);
  return {
    name: channel.name,
    seconds: kept.seconds,
    values: kept.values,
    count: seconds.length,
    dropped: { missing, open: open + pegged.dropped, outOfRange, spikes: kept.dropped },
    ...(pegged.saturated !== undefined && { saturated: pegged.saturated }),
    ...(restsAtC !== undefined && { restsAtC }),
  };
}

interface Unpegged extends Kept {
  readonly saturated?: Saturation;
  readonly restsAtC?: number;
}

function dropPegged(seconds: Float64Array, values: Float64Array, rules: TraceRules): Unpegged {
  const drop: [number, number][] = [];
  let saturated: Saturation | undefined;
  let restsAtC: number | undefined;
  for (let first = 0; first < values.length; first++) {
    const value = at(values, first);
    const scaleC = fullScaleAt(value, rules);
    if (scaleC === undefined) continue;
    let last = first;
    while (last + 1 < values.length && Math.abs(at(values, last + 1) - scaleC) <= SAME_C) last++;
    if (last - first + 1 >= PEGGED_ROWS) {
      const all = first === 0 && last === values.length - 1;
      if (all || stepInto(values, first, last) > CONTACT_LOST_C) {
        drop.push([first, last + 1]);
        restsAtC = scaleC;
      } else {
        const secondsThere = (saturated?.seconds ?? 0) + at(seconds, last) - at(seconds, first);
        saturated = { atC: scaleC, seconds: secondsThere };
      }
    }
    first = last;
  }
  const without = leaveOut(seconds, values, drop);
  return { ...without, ...(saturated !== undefined && { saturated }), ...(restsAtC !== undefined && { restsAtC }) };
}

function fullScaleAt(value: number, { fullScaleC }: TraceRules): number | undefined {
  for (const full of fullScaleC) if (Math.abs(full - value) <= SAME_C) return full;
  return undefined;
}

function stepInto(values: Float64Array, first: number, last: number): number {
  const before = first > 0 ? Math.abs(at(values, first) - at(values, first - 1)) : 0;
  const after = last + 1 < values.length ? Math.abs(at(values, last) - at(values, last + 1)) : 0;
  return Math.max(before, after);
}

function usual(counts: ReadonlyMap<number, number>): number | undefined {
  let best: number | undefined;
  let most = 0;
  for (const [value, count] of counts) {
    if (count > most) [best, most] = [value, count];
  }
  return best;
}
