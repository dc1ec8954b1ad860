import { useMutation } from '@tanstack/react-query';
import { type SyntheticEvent, useRef, useState } from 'react';
import { api, dataOf } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Failure } from '../kit/states.js';
import { unitStateWords } from '../units/site-words.js';
import { type PlanWish, unitNamed, unitsFound } from './plan-wish.js';

interface UnitChoiceProps {
  readonly wish: PlanWish;
  readonly onChange: (wish: PlanWish) => void;
}

/** Beyond these a longer beginning is asked for. */
const MOST_FOUND = 20;

/** Takes a scanned serial, or what a unit's name begins with; the only one that is found is taken at once. */
export function UnitChoice({ wish, onChange }: UnitChoiceProps) {
  // Null while the field shows the unit that is chosen.
  const [typed, setTyped] = useState<string | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const text = typed ?? (wish.serial === '' ? '' : `${wish.assembly}/${wish.serial}`);
  const choose = (assembly: string, serial: string) => {
    setTyped(null);
    input.current?.focus();
    onChange({ ...wish, assembly, serial, refdes: '', device: '' });
  };
  const find = useMutation({
    mutationFn: async (q: string) => {
      const { items } = await dataOf(api.GET('/v1/search', { params: { query: { q, limit: MOST_FOUND } } }));
      return unitsFound(items);
    },
    onSuccess: ([only, ...others]) => {
      if (only !== undefined && others.length === 0) choose(only.assembly, only.serial);
    },
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    const { assembly, serial } = unitNamed(text);
    if (assembly === undefined) find.mutate(serial);
    else choose(assembly, serial);
  };
  return (
    <form className="plan-choice__unit" onSubmit={submit}>
      <Field label="Unit" hint="Scan the serial, or type how it begins, and press Enter.">
        <input
          ref={input}
          className="mono"
          required
          maxLength={140}
          autoComplete="off"
          spellCheck={false}
          value={text}
          onChange={(event) => {
            setTyped(event.target.value);
          }}
        />
      </Field>
      <Button type="submit" busy={find.isPending}>
        Find it
      </Button>
      {find.isError && <Failure error={find.error} />}
      {find.data?.length === 0 && (
        <p role="status">
          No unit is called so, or begins so. Look at the label again; a unit is known once it was received.
        </p>
      )}
      {find.data !== undefined && find.data.length > 1 && (
        <ul className="plan-choice__found" aria-label="Units found">
          {find.data.map(({ assembly, serial, customer, state }) => (
            <li key={`${assembly}/${serial}`}>
              <Button
                className="mono"
                onClick={() => {
                  choose(assembly, serial);
                  find.reset();
                }}
              >
                {assembly} / {serial}
              </Button>{' '}
              <span className="quiet">
                {[customer, unitStateWords(state ?? '')].filter((word) => word !== '').join(', ')}
              </span>
            </li>
          ))}
          {find.data.length === MOST_FOUND && <li className="quiet">There may be more: type more of the serial.</li>}
        </ul>
      )}
    </form>
  );
}
