import { ChannelAnalysis, ReadChannel, TraceAnalysis } from '../../libs/domain/trace/channel-analysis.js';
import { readTraceCsv, TraceReading } from '../../libs/domain/trace/read-trace-csv.js';
import { MISSING, OPEN, READ, Trace, TraceChannel } from '../../libs/domain/trace/trace.js';

/** A reading, nothing, or the logger's word for an open circuit. */
export type Sample = number | undefined | 'open';

function channelOf(name: string, samples: readonly Sample[]): TraceChannel {
  const marks = samples.map((sample) => (sample === undefined ? MISSING : sample === 'open' ? OPEN : READ));
  const values = samples.map((sample) => (typeof sample === 'number' ? sample : 0));
  return { name, unit: 'C', values: Float64Array.from(values), marks: Uint8Array.from(marks) };
}

export function traceOf(seconds: readonly number[], channels: Readonly<Record<string, readonly Sample[]>>): Trace {
  return {
    seconds: Float64Array.from(seconds),
    channels: Object.entries(channels).map(([name, samples]) => channelOf(name, samples)),
    notes: [],
  };
}

/** Times from 0 to `toS`, so many a second. */
export function times(toS: number, perSecond: number): number[] {
  return Array.from({ length: Math.round(toS * perSecond) + 1 }, (_, index) => index / perSecond);
}

/** A curve through knots of [s, C], straight between them and flat beyond. */
export function curveThrough(knots: readonly (readonly [number, number])[]): (atS: number) => number {
  return (atS) => {
    const next = knots.findIndex(([knotS]) => knotS >= atS);
    const [toS, toC] = knots[next] ?? knots.at(-1) ?? [0, 0];
    const [fromS, fromC] = knots[next - 1] ?? [toS, toC];
    return toS === fromS ? toC : fromC + ((toC - fromC) * (atS - fromS)) / (toS - fromS);
  };
}

/** 25 C for 20 s, up at 2 C/s to 245 C, 30 s there, down at 4 C/s to 25 C: 58 s at 217 C or above. */
export const TRAPEZOID = curveThrough([
  [20, 25],
  [130, 245],
  [160, 245],
  [215, 25],
  [240, 25],
]);

export function channelNamed(analysis: TraceAnalysis, name: string): ChannelAnalysis {
  const found = analysis.channels.find((channel) => channel.name === name);
  if (found === undefined) throw new Error(`no channel ${name}`);
  return found;
}

export function readChannel(analysis: TraceAnalysis, name: string): ReadChannel {
  const found = channelNamed(analysis, name);
  if (found.state === 'open') throw new Error(`${name} is open: ${found.why}`);
  return found;
}

export function traceFrom(csv: string): Trace {
  return traceRead(readTraceCsv(csv));
}

export function traceRead(reading: TraceReading): Trace {
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.trace;
}

/** Every figure in a result, however deep. */
export function figuresIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value === null || typeof value !== 'object') return [];
  return Object.values(value).flatMap(figuresIn);
}
