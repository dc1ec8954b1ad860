import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type SyntheticEvent, useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { type HeldChoice, heldChoices } from './unit-held.js';

interface UnitRaiseHoldProps {
  readonly unit: Schemas['Unit'];
  readonly onRaised: () => void;
}

/** Puts the unit, one of its sites or one of its devices on hold by hand. */
export function UnitRaiseHold({ unit, onRaised }: UnitRaiseHoldProps) {
  const choices = heldChoices(unit);
  const [chosen, setChosen] = useState(0);
  const [note, setNote] = useState('');
  const queries = useQueryClient();
  const raise = useMutation({
    mutationFn: ({ body }: HeldChoice) => dataOf(api.POST('/v1/holds', { body: { ...body, note: note.trim() } })),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: keys.unit(unit.assembly, unit.serial) });
      onRaised();
    },
  });
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    const choice = choices[chosen];
    if (choice !== undefined && !raise.isPending) raise.mutate(choice);
  };
  return (
    <form className="form" onSubmit={submit}>
      <p>
        Clearances for what is held are refused until quality has decided on the hold and someone else has released it.
      </p>
      <Field label="What is held">
        <select
          value={chosen}
          onChange={(event) => {
            setChosen(Number(event.target.value));
          }}
        >
          {choices.map(({ label }, n) => (
            <option key={label} value={n}>
              {label}
            </option>
          ))}
        </select>
      </Field>
      <Field label="Why" hint="What the next person needs to know. It is kept for ever, and the customer may read it.">
        <textarea
          required
          rows={4}
          maxLength={2000}
          value={note}
          onChange={(event) => {
            setNote(event.target.value);
          }}
        />
      </Field>
      {raise.isError && (
        <p role="alert" className="form__error">
          {asProblem(raise.error).title}. {asProblem(raise.error).detail}
        </p>
      )}
      <Button tone="stop" type="submit" busy={raise.isPending}>
        Raise the hold
      </Button>
    </form>
  );
}
