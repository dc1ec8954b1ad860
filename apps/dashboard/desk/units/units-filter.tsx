import { type SyntheticEvent, useState } from 'react';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { useSession } from '../session/session-gate.js';
import { unitStateWords } from './site-words.js';
import { readUnitFilter, UNIT_STATES, writeUnitFilter } from './unit-filter.js';
import type { UnitFilter } from './unit-queries.js';

interface UnitsFilterProps {
  readonly filter: UnitFilter;
  readonly onFilter: (filter: UnitFilter) => void;
}

/** What a name may be made of; the browser says so where it is not. */
const NAME = { pattern: '\\s*[A-Za-z0-9._:\\-]*\\s*', title: 'letters, digits, dot, underscore, colon, hyphen' };

/** Fields that narrow the list of units down, when one says so. They follow the address when that changes. */
export function UnitsFilter({ filter, onFilter }: UnitsFilterProps) {
  const address = writeUnitFilter(filter).toString();
  const [draft, setDraft] = useState({ address, fields: fieldsOf(filter) });
  const fields = draft.address === address ? draft.fields : fieldsOf(filter);
  const own = useSession().customer;
  const change = (field: Partial<Fields>) => {
    setDraft({ address, fields: { ...fields, ...field } });
  };
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    onFilter(readUnitFilter(new URLSearchParams({ ...fields })));
  };
  const text = (label: string, field: Exclude<keyof Fields, 'state'>, maxLength: number) => (
    <Field label={label}>
      <input
        value={fields[field]}
        maxLength={maxLength}
        {...(field !== 'customer' && NAME)}
        autoComplete="off"
        spellCheck={false}
        onChange={(event) => {
          change({ [field]: event.target.value });
        }}
      />
    </Field>
  );
  return (
    <form className="units-filter" onSubmit={submit}>
      {own === undefined && text('Customer', 'customer', 200)}
      {text('Assembly', 'assembly', 64)}
      {text('Serial', 'serial', 64)}
      <Field label="State">
        <select
          value={fields.state}
          onChange={(event) => {
            change({ state: event.target.value });
          }}
        >
          <option value="">any</option>
          {UNIT_STATES.map((one) => (
            <option key={one} value={one}>
              {unitStateWords(one)}
            </option>
          ))}
        </select>
      </Field>
      <Button type="submit" tone="main">
        Narrow down
      </Button>
      <Button
        aria-disabled={address === ''}
        onClick={() => {
          onFilter({});
        }}
      >
        Show all
      </Button>
    </form>
  );
}

interface Fields {
  readonly customer: string;
  readonly assembly: string;
  readonly serial: string;
  readonly state: string;
}

function fieldsOf({ customer = '', assembly = '', serial = '', state }: UnitFilter): Fields {
  return { customer, assembly, serial, state: state ?? '' };
}
