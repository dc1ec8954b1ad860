import { thinChannel, TracePoint } from '../../domain/trace/thin-channel.js';
import { Trace, TraceChannel } from '../../domain/trace/trace.js';
import { scale, ticks } from './axis.js';
import { CountingLineShown } from './counting-lines.js';
import { INK, PAGE, SIZE } from './page-style.js';
import { Sheet } from './sheet.js';
import { figure } from './shown-values.js';
import { drawMark, strokeLike } from './line-styles.js';

/** A channel of a trace that is drawn, with its peak as the trace has it. */
export interface DrawnChannel {
  readonly channel: TraceChannel;
  /** As it is called below the drawing. */
  readonly label: string;
  readonly peakC: number;
  readonly peakAtS: number;
}

export interface CurveFigure {
  readonly alt: string;
  readonly trace: Trace;
  readonly channels: readonly DrawnChannel[];
  readonly lines: readonly CountingLineShown[];
}

const PLOT_HEIGHT = 150;
const KEY_HEIGHT = 11;
/** Stretches of time that a curve is thinned to: finer than a printer's dots are of no use. */
const BUCKETS = 240;
/** Draws the channels of a heat over time, with the lines that its verdicts used. */
export function curveFigure(sheet: Sheet, { alt, trace, channels, lines }: CurveFigure): void {
  const height = PLOT_HEIGHT + 26 + KEY_HEIGHT * (channels.length + lines.length);
  sheet.figure(alt, height, (top) => {
    const { seconds } = trace;
    const [fromS, toS] = [seconds[0] ?? 0, seconds.at(-1) ?? 1];
    const drawn = channels.map(({ channel }) =>
      thinChannel(
        trace,
        channel,
        BUCKETS,
        lines.map(({ lineC }) => lineC),
      ),
    );
    const [lowC, highC] = rangeOf(channels, drawn, lines);
    const frame = { left: PAGE.left + 26, right: PAGE.right - 34, top: top + 4, bottom: top + PLOT_HEIGHT };
    const x = scale(fromS, toS, frame.left, frame.right);
    const y = scale(lowC, highC, frame.bottom, frame.top);
    drawAxes(sheet, frame, { x, y, fromS, toS, lowC, highC });
    drawCountingLines(sheet, frame, y, lines);
    sheet.doc
      .save()
      .rect(frame.left, frame.top, frame.right - frame.left, frame.bottom - frame.top)
      .clip();
    drawn.forEach((pieces, index) => {
      drawCurve(sheet, pieces, x, y, index);
    });
    sheet.doc.restore();
    channels.forEach(({ peakAtS, peakC }, index) => {
      drawMark(sheet, x(peakAtS), y(peakC), index);
    });
    drawKey(sheet, frame.bottom + 24, channels, lines);
  });
}

type Scale = (value: number) => number;
interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** C. What a disturbed reading says beyond the peaks is cut off. */
function rangeOf(
  channels: readonly DrawnChannel[],
  drawn: readonly (readonly (readonly TracePoint[])[])[],
  lines: readonly CountingLineShown[],
): [number, number] {
  const high = Math.max(...channels.map(({ peakC }) => peakC), ...lines.map(({ lineC }) => lineC));
  let low = high;
  for (const pieces of drawn) for (const piece of pieces) for (const [, celsius] of piece) low = Math.min(low, celsius);
  return [Math.floor(Math.max(low, -50) / 50) * 50, Math.ceil((high + 12) / 25) * 25];
}

function drawAxes(
  sheet: Sheet,
  { left, right, top, bottom }: Frame,
  { x, y, fromS, toS, lowC, highC }: { x: Scale; y: Scale; fromS: number; toS: number; lowC: number; highC: number },
): void {
  const { doc } = sheet;
  for (const tick of ticks(lowC, highC, 6)) {
    doc.undash().lineWidth(0.3).strokeColor(INK.faint).moveTo(left, y(tick)).lineTo(right, y(tick)).stroke();
    const label = String(tick);
    sheet.draw({ text: label, size: SIZE.small }, left - 4 - sheet.width(label, 'regular', SIZE.small), y(tick) - 4);
  }
  for (const tick of ticks(fromS, toS, 8)) {
    doc
      .lineWidth(0.5)
      .strokeColor(INK.rule)
      .moveTo(x(tick), bottom)
      .lineTo(x(tick), bottom + 3)
      .stroke();
    sheet.draw({ text: String(tick), size: SIZE.small }, x(tick) - 5, bottom + 3);
  }
  doc
    .lineWidth(0.5)
    .strokeColor(INK.rule)
    .rect(left, top, right - left, bottom - top)
    .stroke();
  sheet.draw({ text: '°C', size: SIZE.small }, PAGE.left, top);
  const seconds = 'seconds of the trace';
  sheet.draw({ text: seconds, size: SIZE.small }, right - sheet.width(seconds, 'regular', SIZE.small), bottom + 12);
}

function drawCountingLines(sheet: Sheet, frame: Frame, y: Scale, lines: readonly CountingLineShown[]): void {
  for (const { lineC } of lines) {
    const at = y(lineC);
    sheet.doc.undash().lineWidth(1.1).strokeColor(INK.text).moveTo(frame.left, at).lineTo(frame.right, at).stroke();
    sheet.draw({ text: figure(lineC, '°C'), face: 'bold', size: SIZE.small }, frame.right + 3, at - 4);
  }
}

function drawCurve(sheet: Sheet, pieces: readonly (readonly TracePoint[])[], x: Scale, y: Scale, index: number): void {
  strokeLike(sheet, index);
  for (const piece of pieces) {
    piece.forEach(([seconds, celsius], point) => {
      if (point === 0) sheet.doc.moveTo(x(seconds), y(celsius));
      else sheet.doc.lineTo(x(seconds), y(celsius));
    });
    if (piece.length > 1) sheet.doc.stroke();
  }
  sheet.doc.undash();
}

function drawKey(
  sheet: Sheet,
  top: number,
  channels: readonly DrawnChannel[],
  lines: readonly CountingLineShown[],
): void {
  lines.forEach(({ label }, index) => {
    const middle = top + (channels.length + index) * KEY_HEIGHT + 5;
    sheet.doc.undash().lineWidth(1.1).strokeColor(INK.text);
    sheet.doc
      .moveTo(PAGE.left + 26, middle)
      .lineTo(PAGE.left + 62, middle)
      .stroke();
    sheet.draw({ text: `counting line ${label}`, face: 'bold', size: SIZE.small }, PAGE.left + 68, middle - 5);
  });
  channels.forEach(({ label, peakC, peakAtS }, index) => {
    const middle = top + index * KEY_HEIGHT + 5;
    strokeLike(sheet, index);
    sheet.doc
      .moveTo(PAGE.left + 26, middle)
      .lineTo(PAGE.left + 62, middle)
      .stroke()
      .undash();
    drawMark(sheet, PAGE.left + 44, middle, index);
    const text = `${label}: peak ${figure(peakC, '°C', 1)} at ${figure(peakAtS, 's', 1)}`;
    sheet.draw({ text: sheet.clean(text), size: SIZE.small }, PAGE.left + 68, middle - 5);
  });
}
