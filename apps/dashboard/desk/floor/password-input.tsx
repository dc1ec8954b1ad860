import { Field } from '../kit/field.js';

interface PasswordInputProps {
  readonly label: string;
  readonly hint?: string;
  readonly autoComplete: 'current-password' | 'new-password';
  readonly value: string;
  readonly onValue: (value: string) => void;
}

const LEAST = 12;
const MOST = 256;

/** A password; a new one is held to its length before it is sent. */
export function PasswordInput({ label, hint, autoComplete, value, onValue }: PasswordInputProps) {
  const length = autoComplete === 'new-password' ? { minLength: LEAST, maxLength: MOST } : {};
  return (
    <Field label={label} {...(hint !== undefined && { hint })}>
      <input
        type="password"
        required
        autoComplete={autoComplete}
        value={value}
        {...length}
        onChange={(event) => {
          onValue(event.target.value);
        }}
      />
    </Field>
  );
}
