import { ReadChannel } from './channel-analysis.js';
import { Movement } from './channel-movement.js';
import { CleanChannel } from './clean-channel.js';
import { TraceRules } from './trace-rules.js';

/** Whether the input has no thermocouple, and how that shows; undefined where it has one. */
export function whyOpen(channel: CleanChannel, rules: TraceRules): string | undefined {
  const { count, dropped, restsAtC, values } = channel;
  const open = dropped.open + dropped.outOfRange;
  if (values.length > 0 && open <= count * rules.openShare) return undefined;
  if (values.length > 0 || open > 0) {
    const where =
      restsAtC === undefined ? 'marked as open by the logger' : `open or at the end of a scale, mostly ${restsAtC} C`;
    return `${open} of ${count} rows are ${where}: no thermocouple, or a broken one`;
  }
  return `no reading in any of ${count} rows`;
}

/** Whether the channel stood still while others moved; undefined where it moved, or where nothing did. */
export function whyStuck(movement: Movement, othersMovedC: number, rules: TraceRules): string | undefined {
  const leastC = Math.max(rules.stuckC, movement.noiseC);
  if (othersMovedC < rules.movingC || movement.movedC >= leastC) return undefined;
  return (
    `moved by ${movement.movedC.toFixed(1)} C while another channel moved by ${othersMovedC.toFixed(0)} C ` +
    `(stuck below ${leastC.toFixed(1)} C): a dead input, or a bead that lay far from the heat`
  );
}

/** What makes the figures of a channel doubtful; empty where nothing does. */
export function doubtsAbout(
  channel: CleanChannel,
  figures: Pick<ReadChannel, 'secondsUnseen' | 'peakAtS' | 'samples'>,
  rules: TraceRules,
): string[] {
  const doubts: string[] = [];
  const { dropped, saturated, values, count } = channel;
  const bad = dropped.open + dropped.outOfRange + dropped.spikes;
  if (values.length < 3) doubts.push(`only ${values.length} readings`);
  if (saturated !== undefined) {
    doubts.push(
      `stood at the top of a scale, ${saturated.atC} C, for ${saturated.seconds.toFixed(1)} s: it may have been hotter`,
    );
  }
  if (bad >= 3 && bad > count * rules.droppedShare) {
    doubts.push(
      `${bad} of ${count} rows dropped (${dropped.open} open, ${dropped.outOfRange} out of range, ${dropped.spikes} spikes): a loose contact`,
    );
  }
  if (figures.secondsUnseen > 0) {
    doubts.push(`no reading for ${figures.secondsUnseen.toFixed(1)} s next to the line: the time above may be longer`);
  }
  const atPeak = figures.samples.gaps.some(
    ({ bridged, fromS, toS }) => !bridged && figures.peakAtS >= fromS && figures.peakAtS <= toS,
  );
  if (atPeak) doubts.push('the highest reading is next to a stretch without any: the peak may lie in it');
  return doubts;
}
