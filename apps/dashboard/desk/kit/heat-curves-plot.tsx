import { useEffect, useRef, useSyncExternalStore } from 'react';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { HeatArea, HeatRanges } from './heat-curves-areas.js';
import {
  drawAreas,
  drawLines,
  drawMarks,
  drawThick,
  labelWidthPx,
  type PlotLook,
  plotLook,
} from './heat-curves-draw.js';
import { type DrawnSeries, type HeatLine, joinedSeries } from './heat-curves-series.js';

export interface HeatPlotProps {
  readonly series: readonly DrawnSeries[];
  readonly lines: readonly HeatLine[];
  readonly areas: readonly HeatArea[];
  readonly ranges: HeatRanges;
  readonly heightPx: number;
  /** Numbers of the series that are put out of sight. */
  readonly hidden: ReadonlySet<number>;
  /** Where the plot is read. */
  readonly atS: number | null;
  readonly onRead: (atS: number) => void;
}

/** The plot itself, on a canvas. What it shows is said in words around it. */
export default function HeatPlot(props: HeatPlotProps) {
  const { series, lines, areas, ranges, heightPx, hidden, atS, onRead } = props;
  const box = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot>(undefined);
  const isDark = useSyncExternalStore(followScheme, () => matchMedia(DARK).matches);

  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const made = makePlot(element, { series, lines, areas, ranges, heightPx, onRead });
    plot.current = made.plot;
    return () => {
      made.remove();
      plot.current = undefined;
    };
  }, [series, lines, areas, ranges, heightPx, onRead, isDark]);

  useEffect(() => {
    for (const [n, { mark }] of series.entries()) plot.current?.setSeries(n + 1, { show: !hidden.has(mark) });
  }, [hidden, series, lines, areas, ranges, heightPx, onRead, isDark]);

  useEffect(() => {
    if (atS !== null) plot.current?.setCursor({ left: plot.current.valToPos(atS, 's'), top: 0 }, false);
  }, [atS]);

  return <div ref={box} className="heat-curves__plot" style={{ height: heightPx }} />;
}

/** A canvas keeps the colours that it was drawn in: with others it is drawn anew. */
const DARK = '(prefers-color-scheme: dark)';

function followScheme(tell: () => void): () => void {
  const scheme = matchMedia(DARK);
  scheme.addEventListener('change', tell);
  return () => {
    scheme.removeEventListener('change', tell);
  };
}

type Making = Pick<HeatPlotProps, 'series' | 'lines' | 'areas' | 'ranges' | 'heightPx' | 'onRead'>;

/** Puts a plot into an element, and keeps it as wide as that until it is removed. */
function makePlot(element: HTMLElement, making: Making): { plot: uPlot; remove: () => void } {
  const options = optionsOf(making, element.clientWidth, plotLook(element));
  const plot = new uPlot(options, joinedSeries(making.series), element);
  const width = new ResizeObserver(() => {
    plot.setSize({ width: element.clientWidth, height: making.heightPx });
  });
  width.observe(element);
  return {
    plot,
    remove: () => {
      width.disconnect();
      plot.destroy();
    },
  };
}

const LINE_PX = 2;

function optionsOf(making: Making, width: number, look: PlotLook): uPlot.Options {
  const { series, lines, areas, ranges, heightPx, onRead } = making;
  const font = `${look.letterPx}px ${look.fontFamily}`;
  const axis = {
    ...{ font, labelFont: font, labelSize: look.letterPx * 1.8, labelGap: 2 },
    stroke: look.ink,
    grid: { stroke: look.faint, width: 1 },
    ticks: { stroke: look.quiet, width: 1, size: 5 },
  };
  return {
    ...{ width, height: heightPx },
    padding: [look.letterPx, labelWidthPx(lines, look), 0, 0],
    legend: { show: false },
    cursor: { y: false, drag: { x: false, y: false, setScale: false }, points: { size: 7 } },
    scales: { s: { time: false, range: [...ranges.s] }, c: { range: [...ranges.c] } },
    axes: [
      { ...axis, scale: 's', label: 'Time from the start, s', size: look.letterPx * 2 },
      { ...axis, scale: 'c', label: 'Temperature, °C', size: look.letterPx * 3.4 },
    ],
    series: [
      { scale: 's' },
      ...series.map(({ name, colour, dash }) => ({
        ...{ label: name, scale: 'c', width: LINE_PX, dash: [...dash], points: { show: false } },
        stroke: look.series[colour - 1] ?? look.ink,
      })),
    ],
    hooks: {
      drawAxes: [
        (plot) => {
          drawAreas(plot, areas, series, look);
          drawLines(plot, lines, look);
        },
      ],
      draw: [
        (plot) => {
          drawThick(plot, areas, series, look);
          drawMarks(plot, series, look);
        },
      ],
      setCursor: [
        (plot) => {
          const { left } = plot.cursor;
          if (left !== undefined && left >= 0) onRead(plot.posToVal(left, 's'));
        },
      ],
    },
  };
}
