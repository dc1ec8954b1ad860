import { Field } from '../kit/field.js';

const MOST_CHARACTERS = 2000;

interface ActNoteProps {
  readonly label: string;
  readonly hint: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

/** What is said about an act; it is signed with it. */
export function ActNote({ label, hint, value, onChange }: ActNoteProps) {
  return (
    <Field label={label} hint={hint}>
      <textarea
        required
        rows={4}
        maxLength={MOST_CHARACTERS}
        value={value}
        onChange={(event) => {
          onChange(event.target.value);
        }}
      />
    </Field>
  );
}
