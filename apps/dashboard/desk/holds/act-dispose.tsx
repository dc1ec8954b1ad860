import { useState } from 'react';
import { api, dataOf } from '../api/client.js';
import { SignForm, type SignatureGiven } from '../kit/sign-form.js';
import { decisionWords } from '../words/words.js';
import { ActChanged } from './act-changed.js';
import { DECISION_MEANS } from './act-decisions.js';
import { ActNote } from './act-note.js';
import { ActRefused } from './act-refused.js';
import type { Decision, ExplainedHold } from './hold-shape.js';
import { useActOnHold } from './use-act-on-hold.js';
import './act-dispose.css';

interface ActDisposeProps {
  readonly hold: ExplainedHold;
  readonly onDone: () => void;
}

/** Decides what becomes of what is held, with a note and a signature. */
export function ActDispose({ hold, onDone }: ActDisposeProps) {
  const [decision, setDecision] = useState<Decision>();
  const [note, setNote] = useState('');
  const { go, busy, error, changes, accept } = useActOnHold(
    hold,
    (body: { decision: Decision; note: string; signature: SignatureGiven }, version) =>
      dataOf(
        api.POST('/v1/holds/{id}/dispositions', {
          params: { path: { id: hold.id }, header: { 'If-Match': version } },
          body,
        }),
      ),
    onDone,
  );
  return (
    <>
      <ActRefused hold={hold} action="dispose" />
      <SignForm
        meaning="I have looked into it, and this is my decision."
        action="Sign the decision"
        busy={busy}
        error={error}
        onSign={(signature) => {
          if (decision !== undefined) go({ decision, note: note.trim(), signature });
        }}
      >
        <fieldset className="act-dispose">
          <legend>Decision</legend>
          {(hold.decisions ?? []).map((one) => (
            <label key={one}>
              <input
                type="radio"
                name="decision"
                required
                checked={decision === one}
                onChange={() => {
                  setDecision(one);
                }}
              />
              <span>
                <strong>{decisionWords(one)}</strong>
                <span className="quiet">{DECISION_MEANS[one]}</span>
              </span>
            </label>
          ))}
        </fieldset>
        <ActNote
          label="Why, and what is to be done"
          hint="It stands in the ledger for ever, and the customer may read it."
          value={note}
          onChange={setNote}
        />
        <ActChanged changes={changes} onAccept={accept} />
      </SignForm>
    </>
  );
}
