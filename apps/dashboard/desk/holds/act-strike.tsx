import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { Field } from '../kit/field.js';
import { SignForm, type SignatureGiven } from '../kit/sign-form.js';
import { dateAndTime } from '../kit/time-words.js';
import { reasonWords } from '../words/words.js';
import { ActNote } from './act-note.js';
import type { ExplainedHold } from './hold-shape.js';

/** Strikes an event that a station posted wrongly; both it and the striking stay in the ledger. */
export function ActStrike({ hold }: { readonly hold: ExplainedHold }) {
  const queries = useQueryClient();
  // Causes come and go as others work; what is chosen is named by itself.
  const [events] = useState(hold.causes);
  const [chosen, setChosen] = useState(0);
  const [note, setNote] = useState('');
  const strike = useMutation({
    mutationFn: (body: Schemas['AnnulmentBody']) => dataOf(api.POST('/v1/annulments', { body })),
    onSuccess: () => queries.invalidateQueries(),
  });
  if (strike.data !== undefined) return <Struck annulment={strike.data} />;
  const sign = (signature: SignatureGiven) => {
    const event = events[chosen];
    if (event === undefined) return;
    strike.mutate({ event: { source: event.source, id: event.id }, note: note.trim(), signature });
  };
  return (
    <>
      <p>
        For what never happened like that: another serial, another designator, a clock that was wrong. Everything after
        it is judged as if it had not been said; it cannot be taken back. What was right is posted under a new id.
      </p>
      <SignForm
        meaning="Struck: it did not happen like that."
        action="Sign and strike it"
        busy={strike.isPending}
        error={strike.error}
        onSign={sign}
      >
        <Field label="Event">
          <select
            value={chosen}
            onChange={(event) => {
              setChosen(Number(event.target.value));
            }}
          >
            {events.map(({ source, id, time }, n) => (
              <option key={`${source} ${id}`} value={n}>
                {id} from {source.replace('/stations/', '')}, {dateAndTime(time)}
              </option>
            ))}
          </select>
        </Field>
        <ActNote
          label="What is wrong with it"
          hint="And how that was found out. It stands in the ledger for ever, and the customer may read it."
          value={note}
          onChange={setNote}
        />
      </SignForm>
    </>
  );
}

function Struck({ annulment: { entry, holds } }: { readonly annulment: Schemas['Annulment'] }) {
  return (
    <div role="status">
      <p>
        Struck by entry {entry.seq} of <span className="mono">{entry.subject}</span>.
      </p>
      {holds.length === 0 ? (
        <p>No hold changed by it.</p>
      ) : (
        <ul>
          {holds.map(({ id, reason, state, causeGone }) => (
            <li key={id}>
              {reasonWords(reason)}: {state === 'open' ? (causeGone ? 'its cause is gone' : 'raised') : state}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
