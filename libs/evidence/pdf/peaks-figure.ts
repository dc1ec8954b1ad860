import { scale, ticks } from './axis.js';
import { CountingLineShown } from './counting-lines.js';
import { INK, PAGE, SIZE } from './page-style.js';
import { Sheet } from './sheet.js';
import { figure } from './shown-values.js';

/** Peak of one thermocouple, C, and how uncertain it is. */
export interface ShownPeak {
  readonly label: string;
  readonly peakC: number;
  readonly uncertaintyC: number;
}

const ROW = 13;
const HEAD = 12;
const FOOT = 16;
const NAMES = 120;
const FIGURES = 90;

/** Peaks with their uncertainty against the counting line, where a heat left no trace. */
export function peaksFigure(
  sheet: Sheet,
  alt: string,
  peaks: readonly ShownPeak[],
  lines: readonly CountingLineShown[],
): void {
  const rows = HEAD * Math.max(1, lines.length) + ROW * peaks.length;
  sheet.figure(alt, rows + FOOT, (top) => {
    const all = [
      ...peaks.flatMap(({ peakC, uncertaintyC }) => [peakC - uncertaintyC, peakC + uncertaintyC]),
      ...lines.map(({ lineC }) => lineC),
    ];
    const [low, high] = [Math.min(...all) - 8, Math.max(...all) + 8];
    const [left, right] = [PAGE.left + NAMES, PAGE.right - FIGURES];
    const x = scale(low, high, left, right);
    const bottom = top + rows;
    drawLines(sheet, top, bottom, x, lines);
    peaks.forEach((peak, index) => {
      drawPeak(sheet, top + HEAD * Math.max(1, lines.length) + ROW * index, peak, x);
    });
    sheet.doc.undash().lineWidth(0.5).strokeColor(INK.rule).moveTo(left, bottom).lineTo(right, bottom).stroke();
    for (const tick of ticks(low, high, 6)) {
      sheet.doc
        .moveTo(x(tick), bottom)
        .lineTo(x(tick), bottom + 3)
        .stroke();
      sheet.draw({ text: figure(tick, ''), size: SIZE.small }, x(tick) - 6, bottom + 3);
    }
    sheet.draw({ text: 'peak ± uncertainty, °C', size: SIZE.small, ink: INK.soft }, PAGE.left, bottom + 3);
  });
}

function drawLines(
  sheet: Sheet,
  top: number,
  bottom: number,
  x: (value: number) => number,
  lines: readonly CountingLineShown[],
): void {
  lines.forEach(({ lineC, label }, index) => {
    const at = x(lineC);
    const y = top + HEAD * index;
    sheet.doc
      .undash()
      .lineWidth(1.1)
      .strokeColor(INK.text)
      .moveTo(at, y + 10)
      .lineTo(at, bottom)
      .stroke();
    const text = `counting line ${label}`;
    const width = sheet.width(text, 'bold', SIZE.small);
    sheet.draw({ text, face: 'bold', size: SIZE.small }, Math.max(PAGE.left, Math.min(at - 20, PAGE.right - width)), y);
  });
}

function drawPeak(
  sheet: Sheet,
  top: number,
  { label, peakC, uncertaintyC }: ShownPeak,
  x: (value: number) => number,
): void {
  const middle = top + ROW / 2;
  const [from, to] = [x(peakC - uncertaintyC), x(peakC + uncertaintyC)];
  sheet.doc.undash().lineWidth(0.9).strokeColor(INK.text).moveTo(from, middle).lineTo(to, middle).stroke();
  for (const end of [from, to])
    sheet.doc
      .moveTo(end, middle - 2.5)
      .lineTo(end, middle + 2.5)
      .stroke();
  sheet.doc.circle(x(peakC), middle, 2.2).fillColor(INK.text).fill();
  sheet.draw({ text: sheet.clean(label), size: SIZE.table }, PAGE.left, top + 1);
  const told = `${figure(peakC, '')} ± ${figure(uncertaintyC, '°C')}`;
  sheet.draw({ text: told, size: SIZE.table }, PAGE.right - FIGURES + 6, top + 1);
}
