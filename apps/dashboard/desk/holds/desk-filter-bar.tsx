import { Button } from '../kit/button.js';
import { useRole, useSession } from '../session/session-gate.js';
import { type DeskFilter, isNarrowed, ME, type Narrowing, narrowed } from './desk-filter.js';
import { DeskNarrow } from './desk-narrow.js';
import { chipsOf, groupsOf } from './desk-words.js';
import type { DeskCounts } from './use-desk-counts.js';

interface DeskFilterBarProps {
  readonly filter: DeskFilter;
  readonly counts: DeskCounts | undefined;
  readonly onFilter: (filter: DeskFilter) => void;
}

/** What the list is narrowed down by, each of which can be taken away, and what more there is. */
export function DeskFilterBar({ filter, counts, onFilter }: DeskFilterBarProps) {
  const isHouse = !useRole('customer');
  return (
    <div className="desk-filter">
      <div className="desk-filter__line">
        {isHouse && <Shortcuts {...{ filter, counts, onFilter }} />}
        <label className="desk-filter__choice">
          Show{' '}
          <select
            value={filter.state}
            onChange={(event) => {
              onFilter({ ...filter, state: event.target.value as DeskFilter['state'] });
            }}
          >
            <option value="open">open holds</option>
            <option value="released">released holds</option>
            <option value="withdrawn">withdrawn holds</option>
          </select>
        </label>
        <label className="desk-filter__choice">
          Order{' '}
          <select
            value={filter.order}
            onChange={(event) => {
              onFilter({ ...filter, order: event.target.value as DeskFilter['order'] });
            }}
          >
            <option value="graveness">gravest first</option>
            <option value="age">oldest first</option>
          </select>
        </label>
        <DeskNarrow {...{ filter, counts, onFilter }} />
      </div>
      {isNarrowed(filter) && <Chips {...{ filter, onFilter }} />}
    </div>
  );
}

function Shortcuts({ filter, counts, onFilter }: DeskFilterBarProps) {
  const { name } = useSession();
  const shortcuts: readonly { field: Narrowing; value: string; words: string; count: number | undefined }[] = [
    { field: 'assignee', value: ME, words: 'Mine', count: counts?.all.byAssignee[name] ?? (counts && 0) },
    { field: 'overdue', value: 'true', words: 'Overdue', count: counts?.all.overdue },
  ];
  return (
    <div className="desk-filter__choice" role="group" aria-label="Narrow down to">
      {shortcuts.map(({ field, value, words, count }) => (
        <button
          key={field}
          type="button"
          className="desk-filter__shortcut"
          aria-pressed={filter[field] === value}
          onClick={() => {
            onFilter(narrowed(filter, field, value));
          }}
        >
          {words}
          {filter.state === 'open' && count !== undefined && <strong> {groupsOf(count)}</strong>}
        </button>
      ))}
    </div>
  );
}

function Chips({ filter, onFilter }: Omit<DeskFilterBarProps, 'counts'>) {
  return (
    <ul className="desk-filter__chips" aria-label="Narrowed down by">
      {chipsOf(filter).map(({ field, words }) => (
        <li key={field}>
          <button
            type="button"
            className="desk-filter__chip"
            onClick={() => {
              onFilter(narrowed(filter, field, undefined));
            }}
          >
            {words} <span aria-hidden="true">✕</span>
            <span className="unseen">, take away</span>
          </button>
        </li>
      ))}
      <li>
        <Button
          tone="bare"
          onClick={() => {
            onFilter({ state: filter.state, order: filter.order });
          }}
        >
          Clear filters
        </Button>
      </li>
    </ul>
  );
}
