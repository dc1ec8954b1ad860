import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { Field } from '../kit/field.js';
import { SignForm } from '../kit/sign-form.js';
import { subjectName } from '../kit/subject-link.js';
import { limitWords } from '../words/words.js';
import type { Concedable } from './act-concedable.js';
import { ActNote } from './act-note.js';
import { allowedInWords, unitInWords } from './hold-figures.js';
import { renewHold } from './hold-query.js';
import type { ExplainedHold } from './hold-shape.js';

interface ActConcessionProps {
  readonly hold: ExplainedHold;
  readonly concedable: Concedable;
  readonly onDone: () => void;
}

/** Signs an exception that the customer has approved, for what is held and the limit that broke. */
export function ActConcession({ hold, concedable: { limit, subject }, onDone }: ActConcessionProps) {
  const queries = useQueryClient();
  const [allowed, setAllowed] = useState('');
  const [customerReference, setReference] = useState('');
  const [note, setNote] = useState('');
  const concede = useMutation({
    mutationFn: (body: Schemas['ConcessionBody']) => dataOf(api.POST('/v1/concessions', { body })),
    onSuccess: async () => {
      await renewHold(queries, hold.id);
      onDone();
    },
  });
  const { rule } = hold;
  const now = hold.budgets.find(
    (budget) => budget.limit === limit && subjectName(budget.subject) === subjectName(subject),
  );
  return (
    <>
      <dl className="facts">
        <dt>For</dt>
        <dd className="mono">{subjectName(subject)}</dd>
        <dt>{limitWords(limit)}</dt>
        <dd>
          {now !== undefined && `${now.used} used, ${now.allowed === null ? 'no limit' : `${now.allowed} allowed`} now`}
          {now === undefined && rule !== null && allowedInWords(rule.kind, rule.allowed, rule.unit)}
          {rule !== null && ` (limit ${rule.name}, revision ${rule.revision})`}
        </dd>
      </dl>
      <p className="quiet">
        It holds for what happens from now on. This hold stays until it has been decided and released.
      </p>
      <SignForm
        meaning="The customer has approved this exception."
        action="Sign the concession"
        busy={concede.isPending}
        error={concede.error}
        onSign={(signature) => {
          concede.mutate({ subject, limit, allowed: Number(allowed), customerReference, note: note.trim(), signature });
        }}
      >
        <Field
          label={`Allowed from now on${rule === null ? '' : `, ${unitInWords(rule.unit)}`}`}
          hint="It must be looser than what applies now."
        >
          <input
            required
            type="number"
            step="any"
            min={0}
            value={allowed}
            onChange={(event) => {
              setAllowed(event.target.value);
            }}
          />
        </Field>
        <Field label="The customer's own reference" hint="The letter, mail or form by which they approved it.">
          <input
            required
            maxLength={200}
            value={customerReference}
            onChange={(event) => {
              setReference(event.target.value);
            }}
          />
        </Field>
        <ActNote
          label="Why it can be allowed"
          hint="It stands in the ledger for ever, and the customer may read it."
          value={note}
          onChange={setNote}
        />
      </SignForm>
    </>
  );
}
