import { Link } from 'wouter';
import { Empty } from '../kit/states.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { type DeskFilter, isNarrowed, narrowed, writeFilter } from './desk-filter.js';
import { chipsOf } from './desk-words.js';

/** No holds: because all is well, or because nothing matches, with the way to see more. */
export function DeskNothing({ filter }: { readonly filter: DeskFilter }) {
  const isCustomer = useRole('customer');
  if (isNarrowed(filter)) return <NothingMatches filter={filter} />;
  if (filter.state !== 'open') {
    return (
      <Empty title={filter.state === 'released' ? 'No hold has been released yet.' : 'No hold has been withdrawn.'}>
        <p>
          <Link href={paths.holds}>See what is open</Link>
        </p>
      </Empty>
    );
  }
  return (
    <Empty title={isCustomer ? 'None of your boards is on hold.' : 'Nothing is on hold.'}>
      <p>
        {isCustomer
          ? 'Should work on one of them be stopped, it shows here at once.'
          : 'A good day: every board, station and profile may go on. What is stopped next shows here at once.'}
      </p>
    </Empty>
  );
}

function NothingMatches({ filter }: { readonly filter: DeskFilter }) {
  const search = (to: DeskFilter) => `${paths.holds}?${writeFilter(to).toString()}`;
  return (
    <Empty title={filter.state === 'open' ? 'No open hold matches all of this.' : `No ${filter.state} hold matches.`}>
      <ul>
        {chipsOf(filter).map(({ field, words }) => (
          <li key={field}>
            {words} <Link href={search(narrowed(filter, field, undefined))}>without it</Link>
          </li>
        ))}
      </ul>
      <p>
        <Link href={search({ state: filter.state, order: filter.order })}>Clear all filters</Link>
      </p>
    </Empty>
  );
}
