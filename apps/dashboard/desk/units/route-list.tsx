import { lengthInWords } from '../kit/time-words.js';
import type { LedgerSource } from './ledger-queries.js';
import type { RouteLayout } from './route-layout.js';
import { RouteSpanBar } from './route-span.js';
import { RouteStepLink } from './route-step.js';
import { BOARD } from './route-steps.js';
import { clockOf, dayOf } from './route-times.js';
import './route.css';

interface RouteListProps {
  readonly source: LedgerSource;
  readonly layout: RouteLayout;
}

/** The route from top to bottom, for where there is no room beside each other; a hold and a clearance stand where they began. */
export function RouteList({ source, layout: { columns, spanRows } }: RouteListProps) {
  const spans = spanRows.flat();
  const days = columns.map((column) => (column.kind === 'step' ? dayOf(column.step.fromMs) : undefined));
  return (
    <ol className="route-list">
      {columns.map((column, n) => {
        if (column.kind === 'pause') {
          return (
            <li key={`pause ${n}`} className="route-list__pause">
              {lengthInWords(column.lengthMs)} pause
            </li>
          );
        }
        const { step } = column;
        const before = days.slice(0, n).findLast((day) => day !== undefined);
        return (
          <li key={step.seq} className="route-list__step">
            <span className="route-list__time">
              {days[n] !== before && <b>{days[n]}</b>} {clockOf(step.fromMs)}
            </span>
            <span className={step.lane === BOARD ? 'quiet' : 'mono'}>{step.lane}</span>
            <div className="route-list__what">
              <RouteStepLink source={source} step={step} />
              {spans
                .filter(({ from }) => from === n)
                .map((span) => (
                  <RouteSpanBar key={span.key} span={span} />
                ))}
            </div>
          </li>
        );
      })}
    </ol>
  );
}
