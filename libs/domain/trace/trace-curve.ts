import { analyseTrace } from './analyse-trace.js';
import { ChannelAnalysis } from './channel-analysis.js';
import { cleanChannel } from './clean-channel.js';
import { crossings, keptRows, longestJoinedS, readRows } from './thin-channel.js';
import { at, MISSING, READ, rowAt, Trace, TraceChannel } from './trace.js';
import { TraceRules } from './trace-rules.js';

/** A channel at the seconds of its curve, C. */
export interface CurveChannel {
  readonly name: string;
  readonly state: ChannelAnalysis['state'];
  /** Null where the channel is open. */
  readonly peakC: number | null;
  /**
   * To a thousandth: a reading; between two readings that a line joins, the place on that line; null where there is a gap. What
   * the analysis leaves out, such as spikes and open inputs, is left out here.
   */
  readonly atC: readonly (number | null)[];
}

/** A trace with fewer points that looks the same. */
export interface TraceCurve {
  /** Of the trace, ascending; the same for all channels. */
  readonly seconds: readonly number[];
  readonly channels: readonly CurveChannel[];
  /** Stretches at or above the line, as the analysis counts them; none without a line. */
  readonly above: readonly { readonly channel: string; readonly fromS: number; readonly toS: number }[];
  /** Rows of the trace, and how many of them are in the curve. */
  readonly samples: number;
  readonly kept: number;
}

/** Line for an analysis that is not asked for one, C: only peaks and states are taken from it then. */
const ANY_LINE_C = 200;
/** Of each stretch of time up to four rows are kept: the first, lowest, highest and last. */
const ROWS_A_STRETCH = 4;
/** Fewer stretches than this are no curve any more. */
const LEAST_STRETCHES = 8;

/**
 * The curves of a trace in C for drawing: no peak of a channel and no crossing of the line moves, and what is apart stays so.
 * @param points rows to come down to; up to twice as many are kept where channels differ, and up to as many each about
 * crossings and gaps
 * @param liquidusC the line, C, or null
 */
export function traceCurve(
  trace: Trace,
  { points, liquidusC }: { points: number; liquidusC: number | null },
): TraceCurve {
  const { channels: analysed, rules } = analyseTrace(trace, { liquidusC: liquidusC ?? ANY_LINE_C });
  const used = trace.channels.map((channel, index) => usedReadings(trace.seconds, channel, analysed[index], rules));
  const rows = thinned(trace.seconds, used, points);
  if (liquidusC !== null) {
    addUpTo(points, rows, function* () {
      for (const { read, values } of used) yield* crossings(read, values, [liquidusC]);
    });
  }
  const between = keepGapsOpen(trace.seconds, used, rows, points);
  const places = [...rows].map((row): Place => ({ row, second: at(trace.seconds, row) }));
  const shown = [...places, ...between.map((second): Place => ({ row: null, second }))].sort(bySecond);
  return {
    seconds: shown.map(({ second }) => second),
    channels: used.map((channel, index) => curveOf(trace.seconds, channel, analysed[index], shown)),
    above: liquidusC === null ? [] : analysed.flatMap(stretchesAbove),
    samples: trace.seconds.length,
    kept: rows.size,
  };
}

/** A channel with the rows of those readings alone that its figures are of, ascending. */
interface UsedChannel {
  readonly name: string;
  readonly values: Float64Array;
  readonly read: Int32Array;
}

/** A row of the trace, or a second between two rows with nothing in it. */
interface Place {
  readonly row: number | null;
  readonly second: number;
}

function bySecond(a: Place, b: Place): number {
  return a.second - b.second;
}

function stretchesAbove(channel: ChannelAnalysis): TraceCurve['above'] {
  if (channel.state === 'open') return [];
  return channel.excursions.map(({ fromS, toS }) => ({ channel: channel.name, fromS, toS }));
}

function usedReadings(
  seconds: Float64Array,
  channel: TraceChannel,
  analysis: ChannelAnalysis | undefined,
  rules: TraceRules,
): UsedChannel {
  const marks = new Uint8Array(seconds.length).fill(MISSING);
  if (analysis?.state !== 'open') {
    let row = 0;
    for (const second of cleanChannel(seconds, channel, rules).seconds) {
      while (at(seconds, row) < second) row += 1;
      marks[row] = READ;
    }
  }
  return { name: channel.name, values: channel.values, read: readRows(seconds, { marks }) };
}

/** Rows of all channels together; the more these differ, the coarser. */
function thinned(seconds: Float64Array, channels: readonly UsedChannel[], points: number): Set<number> {
  for (let stretches = Math.ceil(points / ROWS_A_STRETCH); ; stretches = Math.ceil(stretches / 2)) {
    const rows = new Set<number>();
    for (const { values, read } of channels)
      for (const row of keptRows(seconds, values, read, stretches)) rows.add(row);
    if (rows.size <= 2 * points || stretches <= LEAST_STRETCHES) {
      for (const channel of channels) for (const row of peakRow(channel)) rows.add(row);
      return rows;
    }
  }
}

/** The first of the highest readings. */
function peakRow({ values, read }: UsedChannel): number[] {
  let peak: number | undefined;
  for (const row of read) {
    if (peak === undefined || at(values, row) > at(values, peak)) peak = row;
  }
  return peak === undefined ? [] : [peak];
}

function addUpTo(most: number, rows: Set<number>, found: () => Iterable<number>): void {
  const end = rows.size + most;
  for (const row of found()) {
    if (rows.size >= end) return;
    rows.add(row);
  }
}

/**
 * Keeps the rows about every stretch without readings that no line joins, and one within it.
 * @returns seconds within stretches where the trace has no row at all
 */
function keepGapsOpen(
  seconds: Float64Array,
  channels: readonly UsedChannel[],
  rows: Set<number>,
  most: number,
): number[] {
  const joinedS = longestJoinedS(seconds);
  const between = new Set<number>();
  addUpTo(most, rows, function* () {
    for (const { read } of channels) {
      for (let index = 1; index < read.length; index += 1) {
        const [before, after] = [rowAt(read, index - 1), rowAt(read, index)];
        const [fromS, toS] = [at(seconds, before), at(seconds, after)];
        if (toS - fromS <= joinedS) continue;
        yield* [before, after];
        if (after - before > 1) yield before + 1;
        else between.add((fromS + toS) / 2);
      }
    }
  });
  return [...between];
}

function curveOf(
  seconds: Float64Array,
  { name, values, read }: UsedChannel,
  analysis: ChannelAnalysis | undefined,
  places: readonly Place[],
): CurveChannel {
  const joinedS = longestJoinedS(seconds);
  let next = 0;
  const atC = places.map(({ second }) => {
    while (next < read.length && at(seconds, rowAt(read, next)) < second) next += 1;
    if (next === read.length) return null;
    const [before, after] = [rowAt(read, next - 1), rowAt(read, next)];
    const [fromS, toS] = [at(seconds, before), at(seconds, after)];
    if (toS === second) return toThousandth(at(values, after));
    if (next === 0 || toS - fromS > joinedS) return null;
    const share = (second - fromS) / (toS - fromS);
    return toThousandth(at(values, before) + share * (at(values, after) - at(values, before)));
  });
  const peakC = analysis === undefined || analysis.state === 'open' ? null : analysis.peakC;
  return { name, state: analysis?.state ?? 'open', peakC, atC };
}

function toThousandth(celsius: number): number {
  return Math.round(celsius * 1000) / 1000;
}
