import { analyseChannel } from './analyse-channel.js';
import { ChannelAnalysis, ReadChannel, TraceAnalysis } from './channel-analysis.js';
import { Movement, movementOf } from './channel-movement.js';
import { cleanChannel } from './clean-channel.js';
import { Trace } from './trace.js';
import { rulesFor, TraceOptions } from './trace-rules.js';

/**
 * What a trace in C shows, channel by channel: peak, time at or above the line, soak, slopes, and whether the channel can
 * be believed. Open, stuck and doubtful channels are reported as such and kept out of the spread. No figure is ever NaN
 * or infinite; one that the readings do not give is left out.
 *
 * RangeError for options that are no numbers above zero, and for a channel that is still in mV.
 */
export function analyseTrace(trace: Trace, options: TraceOptions): TraceAnalysis {
  const rules = rulesFor(options, trace.seconds);
  const inVolts = trace.channels.find(({ unit }) => unit === 'mV');
  if (inVolts !== undefined) throw new RangeError(`channel ${inVolts.name} is in mV: convert it to C first`);
  const clean = trace.channels.map((channel) => cleanChannel(trace.seconds, channel, rules));
  const movements = clean.map(movementOf);
  const channels = clean.map((channel, index) => {
    const movement = movements[index] ?? { movedC: 0, noiseC: 0 };
    return analyseChannel(channel, movement, othersMoved(movements, index), rules);
  });
  return { channels, ...spreadOf(channels, options.spreadOver), rules, notes: notesOn(channels) };
}

function othersMoved(movements: readonly Movement[], self: number): number {
  return movements.reduce((most, { movedC }, index) => (index === self ? most : Math.max(most, movedC)), 0);
}

function spreadOf(
  channels: readonly ChannelAnalysis[],
  names: readonly string[] | undefined,
): Pick<TraceAnalysis, 'spreadC' | 'spread'> {
  const sound = channels.filter((channel): channel is ReadChannel => channel.state === 'ok');
  const over = sound.filter(({ name }) => names?.includes(name) ?? true);
  const [first, ...others] = over;
  if (first === undefined || others.length === 0) return {};
  const hottest = others.reduce((best, channel) => (channel.peakC > best.peakC ? channel : best), first);
  const coolest = others.reduce((best, channel) => (channel.peakC < best.peakC ? channel : best), first);
  return {
    spreadC: hottest.peakC - coolest.peakC,
    spread: { hottest: hottest.name, coolest: coolest.name, over: over.map(({ name }) => name) },
  };
}

function notesOn(channels: readonly ChannelAnalysis[]): string[] {
  return channels.flatMap((channel) => {
    const notes = channel.state === 'ok' ? [] : [`${channel.name} is ${channel.state}: ${channel.why}`];
    const { spikes } = channel.samples.dropped;
    if (channel.state === 'ok' && spikes > 0) notes.push(`${channel.name}: ${spikes} spikes were left out`);
    if (channel.state !== 'open' && channel.from25Basis === 'first-reading') {
      notes.push(`${channel.name} starts above 25 C: its time to peak is counted from the first reading`);
    }
    return notes;
  });
}
