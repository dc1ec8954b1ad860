import { at } from './trace.js';

/** What a trace is analysed for, and by which rules. Only the line has no default. */
export interface TraceOptions {
  /** The line: readings at or above it count as above, C. */
  readonly liquidusC: number;
  /** Band of the soak, C, both ends included; no soak is measured unless both are given. */
  readonly soakFromC?: number;
  readonly soakToC?: number;
  /** Stretch over which slopes are fitted, s. */
  readonly rampWindowS?: number;
  /** Longest stretch without a reading that is drawn through as a straight line, s. */
  readonly maxGapS?: number;
  /** Names of the channels whose peaks make up the spread; all sound ones where left out. */
  readonly spreadOver?: readonly string[];
}

/** The figures behind an analysis, house choices all of them, returned with it so that it explains itself. */
export interface TraceRules {
  readonly liquidusC: number;
  readonly soakFromC?: number;
  readonly soakToC?: number;
  /** As asked for, or widened so that three readings fit in at the log's own pace. */
  readonly rampWindowS: number;
  /** As asked for, or ten sampling intervals and 10 s at least. */
  readonly maxGapS: number;
  /** Median time between rows, s. */
  readonly intervalS: number;
  /** Readings outside are no temperature of a rework: an open or overdriven input. */
  readonly plausibleFromC: number;
  readonly plausibleToC: number;
  /** Tops of common scales inside the plausible range, where an unconnected input may rest. */
  readonly fullScaleC: readonly number[];
  /** A jump faster than this there and back again is a spike: no bead with solder on it does that. */
  readonly spikeCPerS: number;
  /** Allowance on top of that for noise, C. */
  readonly spikeFloorC: number;
  /** Longest that a spike may hold its value (repeated readings), s. */
  readonly spikeMaxS: number;
  /** A channel is stuck where another one moved by `movingC` at least and it by less than `stuckC` or its own noise. */
  readonly movingC: number;
  readonly stuckC: number;
  /** A channel is suspect where more of its readings than this share, and three at least, had to be dropped. */
  readonly droppedShare: number;
  /** A channel is open where more of its rows than this share are open or out of range. */
  readonly openShare: number;
  /** Excursions are one where the dip between them is shorter and shallower than this. */
  readonly dipS: number;
  readonly dipC: number;
}

const LEAST_MAX_GAP_S = 10;
const MAX_GAP_INTERVALS = 10;

/** The rules for one trace. RangeError for a line, window or bound that is not a number above zero. */
export function rulesFor(options: TraceOptions, seconds: Float64Array): TraceRules {
  const { liquidusC, soakFromC, soakToC, rampWindowS = 5, maxGapS } = options;
  requirePositive('liquidusC', liquidusC);
  requirePositive('rampWindowS', rampWindowS);
  if (maxGapS !== undefined) requirePositive('maxGapS', maxGapS);
  const intervalS = medianInterval(seconds);
  return {
    liquidusC,
    ...soakBand(soakFromC, soakToC),
    rampWindowS: Math.max(rampWindowS, 2 * intervalS),
    maxGapS: maxGapS ?? Math.max(LEAST_MAX_GAP_S, MAX_GAP_INTERVALS * intervalS),
    intervalS,
    plausibleFromC: -60,
    plausibleToC: 600,
    fullScaleC: [400],
    spikeCPerS: 30,
    spikeFloorC: 5,
    spikeMaxS: 1,
    movingC: 30,
    stuckC: 2,
    droppedShare: 0.02,
    openShare: 0.5,
    dipS: 5,
    dipC: 2,
  };
}

function soakBand(fromC: number | undefined, toC: number | undefined): { soakFromC?: number; soakToC?: number } {
  if (fromC === undefined && toC === undefined) return {};
  if (fromC === undefined || toC === undefined) throw new RangeError('a soak band needs soakFromC and soakToC');
  requirePositive('soakFromC', fromC);
  if (!Number.isFinite(toC) || toC <= fromC) throw new RangeError('soakToC must lie above soakFromC');
  return { soakFromC: fromC, soakToC: toC };
}

function requirePositive(name: string, value: number): void {
  if (!Number.isFinite(value) || value <= 0) throw new RangeError(`${name} must be a number above zero`);
}

const INTERVALS_TO_JUDGE_BY = 4000;

/** Median time between rows, from an even selection of them; 0 for fewer than two rows. */
function medianInterval(seconds: Float64Array): number {
  const stride = Math.max(1, Math.floor(seconds.length / INTERVALS_TO_JUDGE_BY));
  const intervals: number[] = [];
  for (let index = 1; index < seconds.length; index += stride) {
    intervals.push(at(seconds, index) - at(seconds, index - 1));
  }
  const sorted = Float64Array.from(intervals).sort();
  return at(sorted, Math.floor(sorted.length / 2));
}
