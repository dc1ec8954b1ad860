/** One thermocouple of a heat. */
export interface HeatChannel {
  readonly name: string;
  /** °C at each of the curve's seconds; null where nothing was measured. */
  readonly atC: readonly (number | null)[];
}

/** The trace of one heat. */
export interface HeatCurve {
  readonly name: string;
  /** Ascending, from whatever zero all curves of the plot share. */
  readonly seconds: readonly number[];
  readonly channels: readonly HeatChannel[];
}

/** A temperature that is drawn across the plot. */
export interface HeatLine {
  readonly atC: number;
  readonly label: string;
}

/** A stretch of a channel that was over a line. */
export interface HeatAbove {
  /** Name of the curve; without it, each that has the channel. */
  readonly curve?: string;
  readonly channel: string;
  readonly fromS: number;
  readonly toS: number;
  /** What it was over, °C; without it, the first line of the plot. */
  readonly overC?: number;
}

/** A channel as it is drawn: by number, colour and dash, so that no one of them has to carry it alone. */
export interface DrawnSeries {
  /** Its number in the plot, from 1. */
  readonly mark: number;
  readonly name: string;
  readonly curve: string;
  readonly channel: string;
  /** Which of the colours `--series-1` to `--series-6`. */
  readonly colour: number;
  readonly dash: readonly number[];
  readonly seconds: readonly number[];
  readonly atC: readonly (number | null)[];
  /** The highest sample, the first of equals; null where there is none. */
  readonly peak: { readonly atS: number; readonly atC: number } | null;
}

const COLOURS = 6;
/** Lengths of stroke and gap, px. */
const DASHES: readonly (readonly number[])[] = [[], [9, 4], [2, 3], [11, 3, 2, 3], [16, 5], [5, 3, 1, 3, 1, 3]];

/** The channels of all curves in order. Colours come again after six, then with another dash. */
export function drawnSeries(curves: readonly HeatCurve[]): readonly DrawnSeries[] {
  const channels = curves.flatMap((curve) => curve.channels.map((channel) => ({ curve, channel })));
  return channels.map(({ curve, channel }, n) => ({
    mark: n + 1,
    name: curves.length === 1 ? channel.name : `${curve.name} · ${channel.name}`,
    curve: curve.name,
    channel: channel.name,
    colour: (n % COLOURS) + 1,
    dash: DASHES[(n + Math.floor(n / COLOURS)) % DASHES.length] ?? [],
    seconds: curve.seconds,
    atC: channel.atC,
    peak: peakOf(curve.seconds, channel.atC),
  }));
}

function peakOf(seconds: readonly number[], atC: readonly (number | null)[]): DrawnSeries['peak'] {
  let peak: DrawnSeries['peak'] = null;
  for (const [n, value] of atC.entries()) {
    const atS = seconds[n];
    if (value !== null && atS !== undefined && (peak === null || value > peak.atC)) peak = { atS, atC: value };
  }
  return peak;
}

/** Seconds in common and, for each series, °C at them: undefined where only others have a sample, null in a gap. */
export type JoinedSeries = [number[], ...(number | null | undefined)[][]];

/** The series over the seconds of all of them. */
export function joinedSeries(series: readonly DrawnSeries[]): JoinedSeries {
  const seconds = [...new Set(series.flatMap((one) => one.seconds))].sort((a, b) => a - b);
  const columns = series.map((one) => {
    const at = new Map(one.seconds.map((s, n) => [s, one.atC[n] ?? null]));
    return seconds.map((s) => at.get(s));
  });
  return [seconds, ...columns];
}

/** What a series reads at a moment, between two samples in proportion; null before, after and in a gap. */
export function readingAt({ seconds, atC }: DrawnSeries, atS: number): number | null {
  const next = seconds.findIndex((s) => s >= atS);
  const [s, value] = [seconds[next], atC[next]];
  if (s === undefined || value === undefined || value === null) return null;
  if (s === atS) return value;
  const [s0, value0] = [seconds[next - 1], atC[next - 1]];
  if (s0 === undefined || value0 === undefined || value0 === null) return null;
  return value0 + ((value - value0) * (atS - s0)) / (s - s0);
}

/** How long a series was at or over a temperature, s, its crossings found between samples in proportion. */
export function secondsOver({ seconds, atC }: DrawnSeries, overC: number): number {
  let over = 0;
  for (let n = 1; n < seconds.length; n += 1) {
    const [s0, s1, from, to] = [seconds[n - 1], seconds[n], atC[n - 1], atC[n]];
    if (s0 === undefined || s1 === undefined || from === undefined || to === undefined) continue;
    if (from === null || to === null) continue;
    const [low, high] = [Math.min(from, to), Math.max(from, to)];
    if (low >= overC) over += s1 - s0;
    else if (high > overC) over += ((s1 - s0) * (high - overC)) / (high - low);
  }
  return over;
}
