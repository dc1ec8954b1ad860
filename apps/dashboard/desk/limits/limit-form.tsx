import type { ReactNode, SyntheticEvent } from 'react';
import { Field } from '../kit/field.js';
import { AllowedFields } from './allowed-fields.js';
import { type LimitDraft, SCOPE_FIELDS, type ScopeField } from './limit-draft.js';
import { isBudget } from './limit-words.js';

const SCOPE_LABELS: Readonly<Record<ScopeField, string>> = {
  customer: 'Customer',
  assembly: 'Assembly',
  part: 'Part',
  refdes: 'Site',
};

interface LimitFormProps {
  readonly draft: LimitDraft;
  readonly onDraft: (draft: LimitDraft) => void;
  readonly onSubmit: () => void;
  /** What stands below the fields: the button, and what is wrong. */
  readonly children: ReactNode;
}

/** The fields of a limit. */
export function LimitForm({ draft, onDraft, onSubmit, children }: LimitFormProps) {
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    onSubmit();
  };
  return (
    <form className="form limit-form" onSubmit={submit}>
      <div className="limit-form__columns">
        <div className="form">
          <AllowedFields draft={draft} onDraft={onDraft} />
          <ActionField draft={draft} onDraft={onDraft} />
          {isBudget(draft.kind) && (
            <label className="limit-form__check">
              <input
                type="checkbox"
                checked={draft.countPossible}
                onChange={(event) => {
                  onDraft({ ...draft, countPossible: event.target.checked });
                }}
              />
              count possible excursions like certain ones
            </label>
          )}
          <EffectField draft={draft} onDraft={onDraft} />
        </div>
        <fieldset className="limit-form__scope">
          <legend>For whom; the whole house where all is empty</legend>
          {SCOPE_FIELDS.map((field) => (
            <Field key={field} label={SCOPE_LABELS[field]}>
              <input
                maxLength={field === 'customer' ? 200 : 64}
                autoComplete="off"
                spellCheck={false}
                value={draft.scope[field]}
                onChange={(event) => {
                  onDraft({ ...draft, scope: { ...draft.scope, [field]: event.target.value } });
                }}
              />
            </Field>
          ))}
        </fieldset>
      </div>
      <Field label="Source: where the figure comes from">
        <textarea
          required
          rows={2}
          maxLength={1000}
          value={draft.source}
          onChange={(event) => {
            onDraft({ ...draft, source: event.target.value });
          }}
        />
      </Field>
      {children}
    </form>
  );
}

type FieldProps = Pick<LimitFormProps, 'draft' | 'onDraft'>;

function ActionField({ draft, onDraft }: FieldProps) {
  return (
    <Field label="Beyond it">
      <select
        value={draft.action}
        onChange={(event) => {
          onDraft({ ...draft, action: event.target.value === 'hold' ? 'hold' : 'warn' });
        }}
      >
        <option value="hold">a hold</option>
        <option value="warn">a warning</option>
      </select>
    </Field>
  );
}

function EffectField({ draft, onDraft }: FieldProps) {
  return (
    <Field
      label="Takes effect from"
      hint="What happens before is judged by the revision before. Empty: at once, for whatever is judged from now on, however long ago it happened."
    >
      <input
        type="datetime-local"
        value={draft.effectiveFrom}
        onChange={(event) => {
          onDraft({ ...draft, effectiveFrom: event.target.value });
        }}
      />
    </Field>
  );
}
