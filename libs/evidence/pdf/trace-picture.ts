import { analyseTrace } from '../../domain/trace/analyse-trace.js';
import { ReadChannel } from '../../domain/trace/channel-analysis.js';
import { Trace } from '../../domain/trace/trace.js';
import { readStoredTrace } from '../../ledger/traces/read-stored-trace.js';
import { CountingLineShown, linesInWords } from './counting-lines.js';
import { curveFigure, DrawnChannel } from './curve-figure.js';
import { HeatReading } from './heat-readings.js';
import { Report } from './report.js';
import { counted, figure, listed } from './shown-values.js';

const MOST_CHANNELS = 8;
const MOST_FAULTS = 3;
/** Line for an analysis where the verdicts used none, C: only peaks are taken from it then. */
const ANY_LINE_C = 200;

/**
 * Draws the trace of a heat. Channels that the summary names come first.
 * @returns whether there was one that could be drawn; where not, the reason is said.
 */
export async function tracePicture(
  { source, sheet }: Report,
  name: string,
  readings: readonly HeatReading[],
  lines: readonly CountingLineShown[],
): Promise<boolean> {
  const refuse = (why: string): boolean => {
    sheet.paragraph(`Trace ${name} ${why}`);
    return false;
  };
  const stored = await source.trace(name);
  if (stored === undefined) return refuse('is named by the step; its file is not in the book.');
  const reading = readStoredTrace(stored);
  if (!reading.ok) {
    const faults = reading.faults.map(({ detail }) => detail);
    return refuse(`cannot be drawn: ${listed(faults, MOST_FAULTS)}.`);
  }
  const { trace } = reading;
  const { channels: analysed } = analyseTrace(trace, { liquidusC: lines[0]?.lineC ?? ANY_LINE_C });
  const sound = analysed.filter((channel): channel is ReadChannel => channel.state !== 'open');
  const channels = drawnChannels(trace, sound, readings);
  if (channels.length === 0) return refuse('has no channel with a reading.');
  const words = channels.map(({ label, peakC, peakAtS }) => {
    return `${label} peaks at ${figure(peakC, '°C', 1)} after ${figure(peakAtS, 's', 1)}`;
  });
  const alt = `Curves of trace ${name}: ${words.join(', ')}. ${linesInWords(lines)}`;
  curveFigure(sheet, { alt, trace, channels, lines });
  const open = analysed.filter(({ state }) => state === 'open').map((channel) => channel.name);
  const undrawn = sound.length - channels.length;
  const notes = [
    `File SHA-256 ${stored.contentHash}.`,
    ...(open.length === 0 ? [] : [`Nothing to draw on ${listed(open, MOST_CHANNELS)}: open.`]),
    ...(undrawn === 0 ? [] : [`${counted(undrawn, 'channel is', 'channels are')} not drawn.`]),
  ];
  sheet.paragraph(notes.join(' '), { size: 6.5 });
  return true;
}

function drawnChannels(
  trace: Trace,
  sound: readonly ReadChannel[],
  readings: readonly HeatReading[],
): readonly DrawnChannel[] {
  const found = sound.flatMap(({ name, state, peakC, peakAtS }) => {
    const channel = trace.channels.find((one) => one.name === name);
    if (channel === undefined) return [];
    const known = readings.find(({ summary }) => summary.id.toLowerCase() === name.toLowerCase());
    const label = `${known?.label ?? `${name} (not in the summary)`}${state === 'ok' ? '' : `, ${state}`}`;
    return [{ channel, label, peakC, peakAtS, told: known !== undefined }];
  });
  return [...found.filter(({ told }) => told), ...found.filter(({ told }) => !told)].slice(0, MOST_CHANNELS);
}
