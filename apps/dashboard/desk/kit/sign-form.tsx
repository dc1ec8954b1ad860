import { type ReactNode, type SyntheticEvent, useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { useSession } from '../session/session-gate.js';
import { Button } from './button.js';
import { Field } from './field.js';

/** What signing takes: the password again, and what is meant by it. */
export interface SignatureGiven {
  readonly password: string;
  readonly meaning: string;
}

interface SignFormProps {
  /** What is signed, above the signature: the fields of the act. */
  readonly children?: ReactNode;
  /** What the signature would mean unless the signer says otherwise. */
  readonly meaning: string;
  /** On the button: "Sign and release". */
  readonly action: string;
  readonly busy: boolean;
  /** Why the last try was refused. */
  readonly error: unknown;
  readonly onSign: (signature: SignatureGiven) => void;
}

/** A form that is signed. The password is kept nowhere and emptied after each try. */
export function SignForm({ children, meaning, action, busy, error, onSign }: SignFormProps) {
  const { printedName, name } = useSession();
  const [password, setPassword] = useState('');
  const [meant, setMeant] = useState(meaning);
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    if (busy) return;
    onSign({ password, meaning: meant });
    setPassword('');
  };
  return (
    <form onSubmit={submit} className="form">
      {children}
      <fieldset className="form__signature">
        <legend>
          Signature of {printedName} ({name})
        </legend>
        <Field label="What it means">
          <input
            required
            maxLength={200}
            value={meant}
            onChange={(event) => {
              setMeant(event.target.value);
            }}
          />
        </Field>
        <Field label="Your password, again">
          <input
            type="password"
            required
            autoComplete="current-password"
            value={password}
            onChange={(event) => {
              setPassword(event.target.value);
            }}
          />
        </Field>
      </fieldset>
      {error !== null && error !== undefined && (
        <p role="alert" className="form__error">
          {asProblem(error).title}. {asProblem(error).detail}
        </p>
      )}
      <Button tone="main" type="submit" busy={busy}>
        {action}
      </Button>
    </form>
  );
}
