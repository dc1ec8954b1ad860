import { type DrawnSeries, readingAt } from './heat-curves-series.js';

interface HeatLegendProps {
  readonly series: readonly DrawnSeries[];
  readonly hidden: ReadonlySet<number>;
  /** Where the plot is read; null: nowhere yet. */
  readonly atS: number | null;
  readonly onToggle: (mark: number) => void;
}

/** Which curve is which, and what each reads where one points; a press puts a curve out of sight and back. */
export function HeatLegend({ series, hidden, atS, onToggle }: HeatLegendProps) {
  return (
    <ul className="heat-legend" aria-label="Curves">
      {series.map((one) => (
        <li key={one.mark}>
          <button
            type="button"
            className="heat-legend__series"
            aria-pressed={!hidden.has(one.mark)}
            onClick={() => {
              onToggle(one.mark);
            }}
          >
            <b className="heat-legend__mark" style={{ color: `var(--series-${one.colour})` }}>
              {one.mark}
            </b>
            <svg className="heat-legend__stroke" viewBox="0 0 36 6" aria-hidden="true">
              <line
                x1="0"
                x2="36"
                y1="3"
                y2="3"
                stroke={`var(--series-${one.colour})`}
                strokeWidth="2.5"
                strokeDasharray={one.dash.join(' ')}
              />
            </svg>
            <span className="heat-legend__name">{one.name}</span>
            <span className="heat-legend__value">{hidden.has(one.mark) ? 'hidden' : reading(one, atS)}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

function reading(series: DrawnSeries, atS: number | null): string {
  if (atS === null) return series.peak === null ? 'no sample' : `peak ${series.peak.atC.toFixed(1)} °C`;
  const atC = readingAt(series, atS);
  return atC === null ? 'no sample here' : `${atC.toFixed(1)} °C`;
}
