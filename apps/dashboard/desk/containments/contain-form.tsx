import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Field } from '../kit/field.js';
import { SignForm } from '../kit/sign-form.js';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { causeInWords } from './cause-wish.js';

/** Signs a containment; afterwards its own page shows how it goes on. */
export function ContainForm({ cause }: { readonly cause: Schemas['SuspectCauseBody'] }) {
  const [note, setNote] = useState('');
  const [holdCause, setHoldCause] = useState(false);
  const [, go] = useLocation();
  const queries = useQueryClient();
  const mayHoldCause = cause.station !== undefined || cause.operator !== undefined || cause.profile !== undefined;
  const contain = useMutation({
    mutationFn: (signature: Schemas['SignatureBody']) =>
      dataOf(api.POST('/v1/containments', { body: { cause, note, signature, ...(mayHoldCause && { holdCause }) } })),
    onSuccess: async (made) => {
      await queries.invalidateQueries({ queryKey: keys.containments });
      if ('id' in made) go(paths.containment(made.id));
    },
  });
  return (
    <SignForm
      meaning="Everything that this cause touched is to be held"
      action="Sign and hold"
      busy={contain.isPending}
      error={contain.error}
      onSign={(signature) => {
        contain.mutate(signature);
      }}
    >
      <p className="contain-form__what">
        Everything that <strong>{causeInWords(cause)}</strong> touched from <When at={cause.from} /> up to{' '}
        <When at={cause.to} /> gets a hold, all at one moment. Each is then worked on and released by itself.
      </p>
      <Field label="What happened" hint="It stands on each hold, and customers read it on theirs.">
        <textarea
          required
          rows={3}
          maxLength={2000}
          value={note}
          onChange={(event) => {
            setNote(event.target.value);
          }}
        />
      </Field>
      {mayHoldCause && (
        <label className="contain-form__cause">
          <input
            type="checkbox"
            checked={holdCause}
            onChange={(event) => {
              setHoldCause(event.target.checked);
            }}
          />
          Hold {causeInWords(cause)} too: no clearance is given for work by it
        </label>
      )}
    </SignForm>
  );
}
