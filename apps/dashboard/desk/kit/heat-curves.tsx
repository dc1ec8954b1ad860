import { lazy, Suspense, useCallback, useId, useMemo, useState } from 'react';
import { Button } from './button.js';
import { closeRanges, heatAreas, wholeRanges } from './heat-curves-areas.js';
import { HeatLegend } from './heat-curves-legend.js';
import { drawnSeries, type HeatAbove, type HeatCurve, type HeatLine } from './heat-curves-series.js';
import { HeatFigures } from './heat-curves-figures.js';
import './heat-curves.css';

// The library that plots comes only with the first plot.
const HeatPlot = lazy(() => import('./heat-curves-plot.js'));

interface HeatCurvesProps {
  /** Heats, over seconds from a zero that they share. */
  readonly curves: readonly HeatCurve[];
  /** Temperatures to compare with; the first is what `above` is over, unless that says otherwise. */
  readonly lines: readonly HeatLine[];
  /** Stretches to bring out: drawn thicker, and hatched down to the line. */
  readonly above?: readonly HeatAbove[];
  readonly heightPx?: number;
  /** What is drawn, in words. */
  readonly label: string;
}

const HEIGHT_PX = 340;
const NOTHING: readonly HeatAbove[] = [];

/**
 * Temperatures over time. Each channel has a number, a colour and a dash; what the plot shows can be read as text too. Give it
 * the same arrays for as long as they say the same: it is drawn anew for others.
 */
export function HeatCurves({ curves, lines, above = NOTHING, heightPx = HEIGHT_PX, label }: HeatCurvesProps) {
  const series = useMemo(() => drawnSeries(curves), [curves]);
  const areas = useMemo(() => heatAreas(series, above, lines), [series, above, lines]);
  const whole = useMemo(() => wholeRanges(series, lines), [series, lines]);
  const [close, setClose] = useState(false);
  const ranges = useMemo(() => (close ? closeRanges(whole, areas, lines) : whole), [close, whole, areas, lines]);
  const [hidden, setHidden] = useState<ReadonlySet<number>>(new Set());
  const [atS, setAtS] = useState<number | null>(null);
  const read = useCallback((s: number) => {
    setAtS(s);
  }, []);
  const slider = useId();

  if (series.every(({ peak }) => peak === null)) return <p className="quiet">There is no sample to draw.</p>;
  return (
    <figure className="heat-curves" aria-label={label}>
      <div role="img" aria-label={`${label}. Its figures follow in words.`}>
        <Suspense fallback={<div style={{ height: heightPx }} />}>
          <HeatPlot {...{ series, lines, areas, ranges, heightPx, hidden, atS }} onRead={read} />
        </Suspense>
      </div>
      <div className="heat-curves__reading">
        <label htmlFor={slider}>Read at</label>
        <input
          id={slider}
          type="range"
          min={Math.ceil(ranges.s[0])}
          max={Math.floor(ranges.s[1])}
          value={Math.round(atS ?? ranges.s[0])}
          onChange={(event) => {
            read(event.target.valueAsNumber);
          }}
        />
        <span className="heat-curves__at">{atS === null ? 'point or slide' : `${Math.round(atS)} s`}</span>
        {areas.length > 0 && (
          <Button
            aria-pressed={close}
            onClick={() => {
              setClose(!close);
            }}
          >
            Close to the line
          </Button>
        )}
      </div>
      <HeatLegend
        {...{ series, hidden, atS }}
        onToggle={(mark) => {
          const next = new Set(hidden);
          if (!next.delete(mark)) next.add(mark);
          setHidden(next);
        }}
      />
      <HeatFigures series={series} lines={lines} />
    </figure>
  );
}
