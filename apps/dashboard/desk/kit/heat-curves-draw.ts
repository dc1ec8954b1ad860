import type uPlot from 'uplot';
import { type HeatArea, spreadOut } from './heat-curves-areas.js';
import type { DrawnSeries, HeatLine } from './heat-curves-series.js';

/** Colours and sizes of the page, for a canvas, which knows no style sheet. */
export interface PlotLook {
  readonly ink: string;
  readonly quiet: string;
  readonly faint: string;
  readonly sheet: string;
  readonly series: readonly string[];
  readonly fontFamily: string;
  /** Height of letters, px. */
  readonly letterPx: number;
}

/** Reads them of an element; they differ between light and dark. */
export function plotLook(element: Element): PlotLook {
  const style = getComputedStyle(element);
  const token = (name: string) => style.getPropertyValue(name).trim();
  return {
    ink: token('--ink'),
    quiet: token('--quiet'),
    faint: token('--faint'),
    sheet: token('--sheet'),
    series: [1, 2, 3, 4, 5, 6].map((n) => token(`--series-${n}`)),
    fontFamily: style.fontFamily,
    // In whole px: the plot reads sizes of letters as whole numbers.
    letterPx: Math.round(0.85 * Number.parseFloat(getComputedStyle(document.documentElement).fontSize)),
  };
}

/** How many dashes there are for lines, the first line's the plainest. Lengths in px. */
const LINE_DASHES: readonly (readonly number[])[] = [[], [7, 4], [2, 4], [12, 4, 2, 4]];
const HATCH_PX = 6;
const THICK_PX = 4.5;
const LABEL_ROOM_PX = 10;

/** The width that the labels of the lines take at the right of the plot, px. */
export function labelWidthPx(lines: readonly HeatLine[], look: PlotLook): number {
  const context = document.createElement('canvas').getContext('2d');
  if (context === null || lines.length === 0) return LABEL_ROOM_PX;
  context.font = `${look.letterPx}px ${look.fontFamily}`;
  return LABEL_ROOM_PX * 2 + Math.max(...lines.map((line) => context.measureText(labelOf(line)).width));
}

function labelOf({ atC, label }: HeatLine): string {
  return `${atC} °C ${label}`;
}

/** Hatches what lies between a line and what was over it. */
export function drawAreas(plot: uPlot, areas: readonly HeatArea[], series: readonly DrawnSeries[], look: PlotLook) {
  inPlot(plot, (context, ratio) => {
    for (const area of shown(plot, areas)) {
      const colour = colourOf(series[area.series], look);
      context.save();
      context.clip(pathOf(plot, area));
      context.strokeStyle = colour;
      context.lineWidth = ratio;
      const { left, top, width, height } = plot.bbox;
      // Each series leans its own way, so that hatches that cross can be told apart in grey.
      const lean = area.series % 2 === 0 ? 1 : -1;
      const begin = lean === 1 ? left - height : left;
      context.beginPath();
      for (let x = begin; x < begin + width + height; x += HATCH_PX * ratio) {
        context.moveTo(x, top + (lean === 1 ? height : 0));
        context.lineTo(x + height, top + (lean === 1 ? 0 : height));
      }
      context.stroke();
      context.restore();
    }
  });
}

/** Draws again, thicker, what was over a line. */
export function drawThick(plot: uPlot, areas: readonly HeatArea[], series: readonly DrawnSeries[], look: PlotLook) {
  inPlot(plot, (context, ratio) => {
    for (const area of shown(plot, areas)) {
      context.strokeStyle = colourOf(series[area.series], look);
      context.lineWidth = THICK_PX * ratio;
      context.lineJoin = 'round';
      context.stroke(pathOf(plot, area));
    }
  });
}

/** Draws the lines across, each with its dash, and its words at the right. */
export function drawLines(plot: uPlot, lines: readonly HeatLine[], look: PlotLook) {
  const { left, top, width, height } = plot.bbox;
  const ratio = devicePixelRatio;
  const placed = lines
    .map((line, n) => ({
      line,
      dash: LINE_DASHES[n % LINE_DASHES.length] ?? [],
      y: plot.valToPos(line.atC, 'c', true),
    }))
    .filter(({ y }) => y >= top && y <= top + height)
    .sort((a, b) => a.y - b.y);
  const gap = look.letterPx * 1.25 * ratio;
  const labelsY = spreadOut(
    placed.map(({ y }) => y),
    gap,
    top + height,
  );
  const { ctx } = plot;
  ctx.save();
  ctx.strokeStyle = look.ink;
  ctx.fillStyle = look.ink;
  ctx.font = `${look.letterPx * ratio}px ${look.fontFamily}`;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  for (const [n, { line, dash, y }] of placed.entries()) {
    const labelY = labelsY[n] ?? y;
    const right = left + width;
    ctx.lineWidth = 1.25 * ratio;
    ctx.setLineDash(dash.map((length) => length * ratio));
    ctx.beginPath();
    ctx.moveTo(left, y);
    ctx.lineTo(right, y);
    ctx.lineTo(right + LABEL_ROOM_PX * 0.8 * ratio, labelY);
    ctx.stroke();
    ctx.fillText(labelOf(line), right + LABEL_ROOM_PX * ratio, labelY);
  }
  ctx.restore();
}

/** Writes its number at the peak of each series; peaks side by side, where they would lie on each other. */
export function drawMarks(plot: uPlot, series: readonly DrawnSeries[], look: PlotLook) {
  inPlot(plot, (context, ratio) => {
    const size = look.letterPx * ratio;
    const taken: { readonly x: number; readonly y: number }[] = [];
    context.font = `700 ${size}px ${look.fontFamily}`;
    context.textAlign = 'center';
    context.textBaseline = 'middle';
    context.lineWidth = 3 * ratio;
    context.strokeStyle = look.sheet;
    for (const [n, one] of series.entries()) {
      if (one.peak === null || plot.series[n + 1]?.show === false) continue;
      const peakX = plot.valToPos(one.peak.atS, 's', true);
      let x = peakX;
      const y = plot.valToPos(one.peak.atC, 'c', true) - size * 0.75;
      while (taken.some((other) => Math.abs(other.x - x) < size && Math.abs(other.y - y) < size)) x += size;
      taken.push({ x, y });
      if (x !== peakX) drawLeader(context, [peakX, y + size * 0.75], [x, y], { colour: look.quiet, ratio });
      context.strokeText(String(one.mark), x, y);
      context.fillStyle = colourOf(one, look);
      context.fillText(String(one.mark), x, y);
    }
  });
}

/** A thin line from a peak to its number, where that had to give way. */
function drawLeader(
  context: CanvasRenderingContext2D,
  [fromX, fromY]: readonly [number, number],
  [toX, toY]: readonly [number, number],
  { colour, ratio }: { readonly colour: string; readonly ratio: number },
): void {
  context.save();
  context.strokeStyle = colour;
  context.lineWidth = ratio;
  context.beginPath();
  context.moveTo(fromX, fromY);
  context.lineTo(toX, toY);
  context.stroke();
  context.restore();
}

function colourOf(series: DrawnSeries | undefined, look: PlotLook): string {
  return look.series[(series?.colour ?? 1) - 1] ?? look.ink;
}

function shown(plot: uPlot, areas: readonly HeatArea[]): readonly HeatArea[] {
  return areas.filter(({ series }) => plot.series[series + 1]?.show !== false);
}

function pathOf(plot: uPlot, { points }: HeatArea): Path2D {
  const path = new Path2D();
  for (const { s, c } of points) path.lineTo(plot.valToPos(s, 's', true), plot.valToPos(c, 'c', true));
  return path;
}

/** Draws within the axes, and leaves the canvas as it was. */
function inPlot(plot: uPlot, draw: (context: CanvasRenderingContext2D, ratio: number) => void): void {
  const { left, top, width, height } = plot.bbox;
  plot.ctx.save();
  plot.ctx.beginPath();
  plot.ctx.rect(left, top, width, height);
  plot.ctx.clip();
  draw(plot.ctx, devicePixelRatio);
  plot.ctx.restore();
}
