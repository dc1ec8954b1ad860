import { ChannelAnalysis, Gap, ReadChannel, SampleCount } from './channel-analysis.js';
import { Movement } from './channel-movement.js';
import { CleanChannel } from './clean-channel.js';
import { doubtsAbout, whyOpen, whyStuck } from './judge-channel.js';
import { steepestSlopes } from './steepest-slopes.js';
import { lastRiseThrough, secondsAtOrAbove, timeAbove, timeWithin } from './time-above.js';
import { at } from './trace.js';
import { TraceRules } from './trace-rules.js';

const NEAR_PEAK_C = 5;
const COLD_C = 25;
const MOST_GAPS = 100;
/** A stretch without a reading is worth listing where it is longer than this many intervals. */
const GAP_INTERVALS = 2.5;

/** The figures of one channel and its state; `othersMovedC` is how far the liveliest of the other channels moved. */
export function analyseChannel(
  channel: CleanChannel,
  movement: Movement,
  othersMovedC: number,
  rules: TraceRules,
): ChannelAnalysis {
  const samples = countSamples(channel, rules);
  const open = whyOpen(channel, rules);
  if (open !== undefined) return { name: channel.name, state: 'open', why: open, samples };
  const figures = figuresOf(channel, rules);
  const stuck = whyStuck(movement, othersMovedC, rules);
  const doubts = doubtsAbout(channel, { ...figures, samples }, rules);
  const state = stuck !== undefined ? 'stuck' : doubts.length > 0 ? 'suspect' : 'ok';
  const sound = `${samples.used} of ${samples.count} rows used, moved by ${movement.movedC.toFixed(1)} C`;
  const why = stuck ?? (doubts.length > 0 ? doubts.join('; ') : sound);
  return { name: channel.name, state, why, samples, ...figures };
}

function figuresOf(
  { seconds, values }: CleanChannel,
  rules: TraceRules,
): Omit<ReadChannel, 'name' | 'state' | 'why' | 'samples'> {
  const peakIndex = indexOfPeak(values);
  const peakC = at(values, peakIndex);
  const peakAtS = at(seconds, peakIndex);
  const above = timeAbove(seconds, values, rules.liquidusC, rules);
  const { rise, fall } = steepestSlopes(seconds, values, rules.rampWindowS, rules.maxGapS);
  return {
    peakC,
    peakAtS,
    secondsAboveLiquidus: above.seconds,
    excursions: above.excursions,
    secondsUnseen: above.unseenSeconds,
    secondsWithin5OfPeak: secondsAtOrAbove(seconds, values, peakC - NEAR_PEAK_C, rules.maxGapS),
    ...soakOf(seconds, values, peakAtS, rules),
    ...(rise !== undefined && { maxRiseCPerS: rise.cPerS, maxRise: rise }),
    ...(fall !== undefined && { maxFallCPerS: fall.cPerS, maxFall: fall }),
    ...from25(seconds, values, peakC, peakAtS),
    over: { fromS: at(seconds, 0), toS: at(seconds, seconds.length - 1) },
  };
}

function indexOfPeak(values: Float64Array): number {
  let peak = 0;
  for (let index = 1; index < values.length; index++) {
    if (at(values, index) > at(values, peak)) peak = index;
  }
  return peak;
}

function soakOf(
  seconds: Float64Array,
  values: Float64Array,
  untilS: number,
  { soakFromC, soakToC, maxGapS }: TraceRules,
): Pick<ReadChannel, 'soakSeconds'> {
  if (soakFromC === undefined || soakToC === undefined) return {};
  return { soakSeconds: timeWithin(seconds, values, { fromC: soakFromC, toC: soakToC, untilS, maxGapS }) };
}

function from25(
  seconds: Float64Array,
  values: Float64Array,
  peakC: number,
  peakAtS: number,
): Pick<ReadChannel, 'secondsFrom25ToPeak' | 'from25Basis'> {
  if (peakC < COLD_C) return {};
  const crossedS = lastRiseThrough(seconds, values, COLD_C, peakAtS);
  if (crossedS !== undefined) return { secondsFrom25ToPeak: peakAtS - crossedS, from25Basis: 'crossing' };
  return { secondsFrom25ToPeak: peakAtS - at(seconds, 0), from25Basis: 'first-reading' };
}

function countSamples({ seconds, dropped, count }: CleanChannel, rules: TraceRules): SampleCount {
  const gaps: Gap[] = [];
  let gapSeconds = 0;
  // A channel that the logger reads less often than the others has a pace of its own.
  const paceS = (at(seconds, seconds.length - 1) - at(seconds, 0)) / Math.max(1, seconds.length - 1);
  const noteworthyS = GAP_INTERVALS * Math.max(rules.intervalS, paceS);
  for (let index = 1; index < seconds.length; index++) {
    const fromS = at(seconds, index - 1);
    const toS = at(seconds, index);
    const lengthS = toS - fromS;
    if (lengthS <= rules.maxGapS && lengthS <= noteworthyS) continue;
    gapSeconds += lengthS;
    if (gaps.length < MOST_GAPS) gaps.push({ fromS, toS, bridged: lengthS <= rules.maxGapS });
  }
  return { count, used: seconds.length, dropped, gaps, gapSeconds };
}
