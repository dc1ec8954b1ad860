import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Field } from '../kit/field.js';
import { SignForm } from '../kit/sign-form.js';

interface RepeatFormProps {
  readonly id: string;
  readonly onDone: () => void;
}

/** Signs another round of a containment; what is held already stays as it is. */
export function RepeatForm({ id, onDone }: RepeatFormProps) {
  const [note, setNote] = useState('');
  const queries = useQueryClient();
  const repeat = useMutation({
    mutationFn: (signature: Schemas['SignatureBody']) =>
      dataOf(api.POST('/v1/containments/{id}/repeat', { params: { path: { id } }, body: { note, signature } })),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: keys.containment(id) });
      onDone();
    },
  });
  return (
    <SignForm
      meaning="What is touched and not held is to be held too"
      action="Sign and hold"
      busy={repeat.isPending}
      error={repeat.error}
      onSign={(signature) => {
        repeat.mutate(signature);
      }}
    >
      <Field label="Why again" hint="It stands on each hold, and customers read it on theirs.">
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
    </SignForm>
  );
}
