import { Link, useSearchParams } from 'wouter';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { useNow } from '../kit/when.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { unitStateWords } from '../units/site-words.js';
import { closed, instantsOf, isAllTime, type Period, periodWords, readPeriod } from './period.js';
import { spanInWords } from './span-words.js';
import { PeriodFilter } from './period-filter.js';
import { type StationReport, type TouchedUnit, useTouchedUnits } from './station-queries.js';

/** Which units the station had to do with: the answer to "what else did it touch?". */
export function StationTouched({ report }: { readonly report: StationReport }) {
  const { station, lastEventTime } = report;
  const [params] = useSearchParams();
  const newestMs = lastEventTime === null ? undefined : Date.parse(lastEventTime);
  const days = closed(readPeriod(params), newestMs, useNow());
  const touched = useTouchedUnits(station, days);
  const mayContain = useRole('quality', 'approver', 'auditor', 'admin');
  return (
    <Block
      title="Units it touched"
      note={`Boards that it told of ${periodWords(days)}, by when that happened, the last one first.`}
      beside={mayContain && <Link href={containmentOf(station, days)}>Contain what it touched</Link>}
    >
      <PeriodFilter open={newestMs === undefined ? 'All time' : 'Up to its newest event'} />
      <Loaded query={touched} what="the units it touched">
        {({ pages }) => {
          const units = pages.flatMap(({ items }) => items);
          if (units.length === 0) return <NothingTouched narrowed={params.has('from') || params.has('to')} />;
          return (
            <>
              <TouchedRows units={units} />
              <p className="station-page__more quiet" role="status">
                {touched.hasNextPage ? `${units.length} units so far` : `${inWords(units.length)} in all`}
              </p>
              {touched.hasNextPage && (
                <Button busy={touched.isFetchingNextPage} onClick={() => void touched.fetchNextPage()}>
                  Show more units
                </Button>
              )}
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}

function inWords(units: number): string {
  return units === 1 ? '1 unit' : `${units} units`;
}

function TouchedRows({ units }: { readonly units: readonly TouchedUnit[] }) {
  return (
    <div className="scroll-x" role="region" aria-label="Units, one a row" tabIndex={0}>
      <table className="rows touched-rows">
        <thead>
          <tr>
            <th scope="col">Unit</th>
            <th scope="col">Customer</th>
            <th scope="col">State</th>
            <th scope="col">Touched</th>
            <th scope="col" className="number">
              Events
            </th>
          </tr>
        </thead>
        <tbody>
          {units.map(({ assembly, serial, customer, state, firstAt, lastAt, events }) => (
            <tr key={`${assembly}/${serial}`}>
              <th scope="row">
                <Link className="mono" href={paths.unit(assembly, serial)}>
                  {assembly} / {serial}
                </Link>
              </th>
              <td>{customer === '' ? 'not known' : customer}</td>
              <td>{unitStateWords(state)}</td>
              <td>{spanInWords(firstAt, lastAt)}</td>
              <td className="number">{events}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function NothingTouched({ narrowed }: { readonly narrowed: boolean }) {
  return narrowed ? (
    <Empty title="It touched no unit in these days.">
      <p>A longer period may have some: take another one above.</p>
    </Empty>
  ) : (
    <Empty title="It has touched no unit yet.">
      <p>A unit is listed with the first event that this station posts of it.</p>
    </Empty>
  );
}

/** Where all time is shown, from when on the station is suspect is left to be said there. */
function containmentOf(station: string, days: Required<Period>): string {
  const suspect = isAllTime(days) ? {} : instantsOf(days);
  return `${paths.containments}?${new URLSearchParams({ station, ...suspect }).toString()}`;
}
