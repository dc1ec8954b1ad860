import { DroppedSamples } from './clean-channel.js';
import { FittedSlope } from './steepest-slopes.js';
import { TimeAbove } from './time-above.js';
import { TraceRules } from './trace-rules.js';

/** A stretch without a reading. `bridged`: short enough to be drawn through as a straight line. */
export interface Gap {
  readonly fromS: number;
  readonly toS: number;
  readonly bridged: boolean;
}

export interface SampleCount {
  /** Rows of the trace. */
  readonly count: number;
  readonly used: number;
  readonly dropped: DroppedSamples;
  /** The first hundred; `gapSeconds` is the length of all. */
  readonly gaps: readonly Gap[];
  readonly gapSeconds: number;
}

interface ChannelBase {
  readonly name: string;
  /** Why the channel is in its state, in words; for a sound one, what it was judged by. */
  readonly why: string;
  readonly samples: SampleCount;
}

/** A channel without a thermocouple, or with a broken one: it has no figures. */
export interface OpenChannel extends ChannelBase {
  readonly state: 'open';
}

/** What a channel with readings shows. Temperatures in C, times in s of the trace, durations in s, slopes in C/s. */
export interface ReadChannel extends ChannelBase {
  readonly state: 'ok' | 'stuck' | 'suspect';
  readonly peakC: number;
  /** When the peak was first reached. */
  readonly peakAtS: number;
  readonly secondsAboveLiquidus: number;
  readonly excursions: readonly TimeAbove[];
  /** Stretches without a reading next to the line: not counted above, not known to be below. */
  readonly secondsUnseen: number;
  readonly secondsWithin5OfPeak: number;
  /** Time in the soak band before the peak; only where a band was asked for. */
  readonly soakSeconds?: number;
  readonly maxRiseCPerS?: number;
  readonly maxRise?: FittedSlope;
  readonly maxFallCPerS?: number;
  readonly maxFall?: FittedSlope;
  /** From 25 C on the way up, or from the first reading where the log starts warmer: then it took at least so long. */
  readonly secondsFrom25ToPeak?: number;
  readonly from25Basis?: 'crossing' | 'first-reading';
  /** First and last reading used. */
  readonly over: { readonly fromS: number; readonly toS: number };
}

export type ChannelAnalysis = OpenChannel | ReadChannel;

/** What a trace shows, by which rules. */
export interface TraceAnalysis {
  readonly channels: readonly ChannelAnalysis[];
  /** Highest less lowest peak of the sound channels; left out where fewer than two are sound. */
  readonly spreadC?: number;
  readonly spread?: { readonly hottest: string; readonly coolest: string; readonly over: readonly string[] };
  readonly rules: TraceRules;
  readonly notes: readonly string[];
}
