import { useSearchParams } from 'wouter';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { lastDays, type Period, readPeriod, withEnd, writePeriod } from './period.js';
import './period-filter.css';

const PRESETS = [
  { label: 'Last 7 days', days: 7 },
  { label: 'Last 30 days', days: 30 },
  { label: 'Last 90 days', days: 90 },
] as const;

interface PeriodFilterProps {
  /** What is shown where both ends are open. */
  readonly open: string;
}

/** Narrows down to a period of whole days, which the address keeps. */
export function PeriodFilter({ open }: PeriodFilterProps) {
  const [params, setParams] = useSearchParams();
  const period = readPeriod(params);
  const set = (next: Period) => {
    setParams(writePeriod(params, next), { replace: true });
  };
  const day = (label: string, end: 'from' | 'to') => (
    <Field label={label}>
      <input
        type="date"
        value={period[end] ?? ''}
        onChange={(event) => {
          set(withEnd(period, end, event.target.value));
        }}
      />
    </Field>
  );
  return (
    <div className="period-filter" role="group" aria-label="Period">
      {day('From', 'from')}
      {day('To, with that day', 'to')}
      <div className="period-filter__presets">
        {PRESETS.map(({ label, days }) => (
          <Button
            key={days}
            aria-pressed={isLast(period, days)}
            onClick={() => {
              set(lastDays(days, Date.now()));
            }}
          >
            {label}
          </Button>
        ))}
        <Button
          aria-pressed={period.from === undefined && period.to === undefined}
          onClick={() => {
            set({});
          }}
        >
          {open}
        </Button>
      </div>
    </div>
  );
}

function isLast({ from, to }: Period, days: number): boolean {
  return to === undefined && from !== undefined && from === lastDays(days, Date.now()).from;
}
