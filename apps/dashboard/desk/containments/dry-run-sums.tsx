import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { clockTime } from '../kit/time-words.js';
import { When } from '../kit/when.js';
import { barsOf, howManyInWords, whereWords, withNobodys } from './contained-words.js';
import { CountBars } from './count-bars.js';

interface DryRunSumsProps {
  readonly found: Schemas['DryRun'];
  /** When it was looked at, ms since 1970. */
  readonly atMs: number;
}

/** How much a cause has touched, whose it is and where it is now; what has left the house stands out. */
export function DryRunSums({ found, atMs }: DryRunSumsProps) {
  const { units, devices, byCustomer, byState, firstAt, lastAt } = found;
  const shipped = byState['shipped'] ?? 0;
  return (
    <>
      <p className="dry-run__sum" role="status">
        <strong>{howManyInWords(units, devices)}</strong>
        {firstAt !== null && lastAt !== null && (
          <>
            , touched from <When at={firstAt} /> to <When at={lastAt} />
          </>
        )}{' '}
        {shipped > 0 && <Mark tone="stop">{shipped} shipped already: their customers are to be told</Mark>}
      </p>
      <p className="quiet">
        As the book stood at {clockTime(atMs)}. When it is signed, everything is looked through again: what is touched
        by then is held.
      </p>
      <div className="dry-run__counts">
        <CountBars
          title="Whose they are"
          bars={barsOf(withNobodys(byCustomer, units + devices), (name) => (name === '' ? 'nobody’s' : name))}
        />
        <CountBars title="Where they are" bars={barsOf(byState, whereWords)} />
      </div>
    </>
  );
}
