import { useState } from 'react';
import { api, dataOf } from '../api/client.js';
import { SignForm, type SignatureGiven } from '../kit/sign-form.js';
import { decisionWords } from '../words/words.js';
import { ActChanged } from './act-changed.js';
import { ActNote } from './act-note.js';
import { ActRefused } from './act-refused.js';
import { type ExplainedHold, inForce } from './hold-shape.js';
import { useActOnHold } from './use-act-on-hold.js';

interface ActReleaseProps {
  readonly hold: ExplainedHold;
  readonly onDone: () => void;
}

/** Lifts the stop, as the second person, under the decision in force. */
export function ActRelease({ hold, onDone }: ActReleaseProps) {
  const [note, setNote] = useState('');
  const decided = inForce(hold);
  const { go, busy, error, changes, accept } = useActOnHold(
    hold,
    (body: { note: string; signature: SignatureGiven }, version) =>
      dataOf(
        api.POST('/v1/holds/{id}/release', {
          params: { path: { id: hold.id }, header: { 'If-Match': version } },
          body,
        }),
      ),
    onDone,
  );
  return (
    <>
      <ActRefused hold={hold} action="release" />
      <p>
        {decided === undefined ? (
          'Nothing was decided; it can go because what called for it is gone.'
        ) : (
          <>
            {decided.signature.printedName} decided <strong>{decisionWords(decided.decision).toLowerCase()}</strong>:{' '}
            {decided.note}
          </>
        )}
      </p>
      <SignForm
        meaning="I have checked what was decided and done, and release this hold."
        action="Sign and release"
        busy={busy}
        error={error}
        onSign={(signature) => {
          go({ note: note.trim(), signature });
        }}
      >
        <ActNote
          label="What you checked"
          hint="It stands in the ledger for ever, and the customer may read it."
          value={note}
          onChange={setNote}
        />
        <ActChanged changes={changes} onAccept={accept} />
      </SignForm>
    </>
  );
}
