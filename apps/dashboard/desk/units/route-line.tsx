import { useEffect, useRef } from 'react';
import { lengthInWords } from '../kit/time-words.js';
import type { LedgerSource } from './ledger-queries.js';
import type { RouteColumn } from './route-columns.js';
import type { RouteLayout } from './route-layout.js';
import { RouteSpanBar } from './route-span.js';
import { RouteStepLink } from './route-step.js';
import { clockOf, dayOf } from './route-times.js';
import './route.css';

interface RouteLineProps {
  readonly source: LedgerSource;
  readonly layout: RouteLayout;
}

/** Rows of the grid before the first lane: day and clock. */
const HEAD_ROWS = 1;
const FIRST_COLUMN = 2;

/** The route from left to right, each step in a column of its own. */
export function RouteLine({ source, layout: { columns, lanes, spanRows } }: RouteLineProps) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // What happened last is what one looks for first.
    box.current?.scrollTo({ left: box.current.scrollWidth });
  }, [columns.length]);
  const rows = HEAD_ROWS + lanes.length + spanRows.length;
  return (
    <div ref={box} className="scroll-x" tabIndex={0} role="region" aria-label="Route from left to right">
      <div className="route-line" style={{ gridTemplateColumns: `max-content ${columns.map(widthOf).join(' ')}` }}>
        {lanes.map((lane, n) => (
          <div key={lane} className="route-line__rule" aria-hidden="true" style={{ gridRow: HEAD_ROWS + n + 1 }} />
        ))}
        {lanes.map((lane, n) => (
          <div key={lane} className="route-line__lane mono" style={{ gridRow: HEAD_ROWS + n + 1 }}>
            {lane}
          </div>
        ))}
        {columns.map((column, n) => {
          const gridColumn = n + FIRST_COLUMN;
          if (column.kind === 'pause') {
            return (
              <div key={`pause ${n}`} className="route-line__pause" style={{ gridColumn, gridRow: `1 / span ${rows}` }}>
                <span>{lengthInWords(column.lengthMs)}</span>
              </div>
            );
          }
          const { step } = column;
          const day = dayOf(step.fromMs);
          return [
            <div key={`time ${step.seq}`} className="route-line__time" style={{ gridColumn, gridRow: 1 }}>
              {day !== dayBefore(columns, n) && <b>{day}</b>}
              <span>{clockOf(step.fromMs)}</span>
            </div>,
            <div
              key={step.seq}
              className="route-line__cell"
              style={{ gridColumn, gridRow: HEAD_ROWS + lanes.indexOf(step.lane) + 1 }}
            >
              <RouteStepLink source={source} step={step} />
            </div>,
          ];
        })}
        {spanRows.flatMap((row, n) =>
          row.map((span) => (
            <div
              key={span.key}
              className="route-line__span"
              style={{
                gridRow: HEAD_ROWS + lanes.length + n + 1,
                gridColumn: `${span.from + FIRST_COLUMN} / ${span.to + FIRST_COLUMN + 1}`,
              }}
            >
              <RouteSpanBar span={span} />
            </div>
          )),
        )}
      </div>
    </div>
  );
}

function widthOf({ kind }: RouteColumn): string {
  return kind === 'pause' ? '2rem' : 'minmax(5rem, 1fr)';
}

function dayBefore(columns: readonly RouteColumn[], at: number): string | undefined {
  const before = columns.slice(0, at).findLast((column) => column.kind === 'step');
  return before?.kind === 'step' ? dayOf(before.step.fromMs) : undefined;
}
