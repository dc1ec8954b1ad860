import { type SyntheticEvent, useState } from 'react';
import { Button } from '../kit/button.js';
import { useRole } from '../session/session-gate.js';
import { barsOf } from './desk-bars.js';
import { type DeskFilter, type Narrowing, narrowed, SUBJECT_KINDS } from './desk-filter.js';
import { fieldWords, groupsOf } from './desk-words.js';
import type { DeskCounts } from './use-desk-counts.js';

interface DeskNarrowProps {
  readonly filter: DeskFilter;
  readonly counts: DeskCounts | undefined;
  readonly onFilter: (filter: DeskFilter) => void;
}

const FIELDS = ['serial', 'assembly', 'device', 'station', 'operator', 'subjectKind', 'reason'] as const;
const HOUSE_FIELDS = ['customer', 'assignee'] as const;

/** Narrows down by whatever holds can be asked by: chosen from what there is, or typed. */
export function DeskNarrow({ filter, counts, onFilter }: DeskNarrowProps) {
  const isHouse = !useRole('customer');
  const [field, setField] = useState<Narrowing>('serial');
  const [value, setValue] = useState('');
  const choices = choicesOf(field, counts);
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    const wanted = value.trim();
    if (wanted === '') return;
    if (filter[field] !== wanted) onFilter(narrowed(filter, field, wanted));
    setValue('');
  };
  return (
    <form className="desk-filter__narrow" onSubmit={submit}>
      <label className="desk-filter__choice">
        Narrow by{' '}
        <select
          value={field}
          onChange={(event) => {
            setField(event.target.value as Narrowing);
            setValue('');
          }}
        >
          {[...FIELDS, ...(isHouse ? HOUSE_FIELDS : [])].map((one) => (
            <option key={one} value={one}>
              {fieldWords(one).toLowerCase()}
            </option>
          ))}
        </select>
      </label>
      {choices === undefined ? (
        <input
          aria-label={fieldWords(field)}
          autoComplete="off"
          spellCheck={false}
          maxLength={200}
          value={value}
          onChange={(event) => {
            setValue(event.target.value);
          }}
        />
      ) : (
        <select
          aria-label={fieldWords(field)}
          value={value}
          onChange={(event) => {
            setValue(event.target.value);
          }}
        >
          <option value="">choose</option>
          {choices.map(({ name, label, count }) => (
            <option key={name} value={name}>
              {label}
              {count === undefined ? '' : ` (${groupsOf(count)})`}
            </option>
          ))}
        </select>
      )}
      <Button type="submit">Narrow</Button>
    </form>
  );
}

interface Choice {
  readonly name: string;
  readonly label: string;
  readonly count?: number;
}

function choicesOf(field: Narrowing, counts: DeskCounts | undefined): readonly Choice[] | undefined {
  if (field === 'subjectKind') return SUBJECT_KINDS.map((kind) => ({ name: kind, label: kind }));
  if (counts === undefined) return undefined;
  if (field === 'reason' || field === 'customer') return barsOf(field, counts.beside(field));
  if (field !== 'assignee') return undefined;
  return Object.entries(counts.all.byAssignee).map(([name, count]) => ({ name, label: name, count }));
}
