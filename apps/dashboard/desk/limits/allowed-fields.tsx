import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { methodWords } from '../words/words.js';
import { type LimitDraft, METHODS, type PitchRow } from './limit-draft.js';
import { isBudget, judgesEachStep } from './limit-words.js';

interface AllowedFieldsProps {
  readonly draft: LimitDraft;
  readonly onDraft: (draft: LimitDraft) => void;
}

/** What is allowed, in the form that the kind of limit takes. */
export function AllowedFields({ draft, onDraft }: AllowedFieldsProps) {
  const { kind, figure, unit, rows } = draft;
  if (judgesEachStep(kind))
    return <p>Allowed: 0 {unit}. Each step is judged by itself; what to set is what is done then.</p>;
  if (kind === 'method-allowed') return <MethodFields draft={draft} onDraft={onDraft} />;
  if (kind === 'flatness-max' && rows.length > 0) return <PitchFields draft={draft} onDraft={onDraft} />;
  return (
    <Field label={`Allowed, ${unit}`}>
      <input
        type="number"
        required
        inputMode="decimal"
        min={kind === 'body-peak-max' ? -100 : 0}
        step={isBudget(kind) ? 1 : 'any'}
        value={figure}
        onChange={(event) => {
          onDraft({ ...draft, figure: event.target.value });
        }}
      />
    </Field>
  );
}

function MethodFields({ draft, onDraft }: AllowedFieldsProps) {
  const { methods } = draft;
  return (
    <fieldset className="limit-form__choices">
      <legend>Methods allowed</legend>
      {METHODS.map((method) => (
        <label key={method}>
          <input
            type="checkbox"
            checked={methods.includes(method)}
            onChange={(event) => {
              const others = methods.filter((one) => one !== method);
              onDraft({ ...draft, methods: event.target.checked ? [...others, method] : others });
            }}
          />
          {methodWords(method)}
        </label>
      ))}
    </fieldset>
  );
}

function PitchFields({ draft, onDraft }: AllowedFieldsProps) {
  const { rows, unit } = draft;
  const set = (place: number, change: Partial<PitchRow>) => {
    onDraft({ ...draft, rows: rows.map((row, n) => (n === place ? { ...row, ...change } : row)) });
  };
  const figure = (label: string, value: string, change: (value: string) => void) => (
    <input
      aria-label={label}
      type="number"
      required
      min={0}
      step="any"
      value={value}
      onChange={(event) => {
        change(event.target.value);
      }}
    />
  );
  return (
    <fieldset className="limit-form__pitches">
      <legend>Allowed by ball pitch: the row of the smallest pitch not below the site’s</legend>
      {rows.map(({ pitchMm, max }, place) => (
        <p key={place}>
          to pitch{' '}
          {figure(`Row ${place + 1}: pitch in mm`, pitchMm, (value) => {
            set(place, { pitchMm: value });
          })}{' '}
          mm: at most{' '}
          {figure(`Row ${place + 1}: at most, in ${unit}`, max, (value) => {
            set(place, { max: value });
          })}{' '}
          {unit}{' '}
          {rows.length > 1 && (
            <Button
              tone="bare"
              aria-label={`Take out row ${place + 1}`}
              onClick={() => {
                onDraft({ ...draft, rows: rows.filter((_, n) => n !== place) });
              }}
            >
              Take out
            </Button>
          )}
        </p>
      ))}
      <Button
        onClick={() => {
          onDraft({ ...draft, rows: [...rows, { pitchMm: '', max: '' }] });
        }}
      >
        Add a row
      </Button>
    </fieldset>
  );
}
