import { cloneElement, type ReactElement, useId } from 'react';

interface FieldProps {
  readonly label: string;
  /** What to know before entering it. */
  readonly hint?: string;
  /** What is wrong with what was entered, and what would be right. */
  readonly error?: string | undefined;
  /** One input, select or textarea. */
  readonly children: ReactElement<{
    id?: string;
    'aria-describedby'?: string | undefined;
    'aria-invalid'?: boolean | undefined;
  }>;
}

/** A labelled control with its hint and its error. */
export function Field({ label, hint, error, children }: FieldProps) {
  const id = useId();
  const told = [hint !== undefined && `${id}-hint`, error !== undefined && `${id}-error`].filter(
    (part) => part !== false,
  );
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {cloneElement(children, {
        id,
        'aria-describedby': told.length === 0 ? undefined : told.join(' '),
        'aria-invalid': error !== undefined || undefined,
      })}
      {hint !== undefined && (
        <p className="field__hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {error !== undefined && (
        <p className="field__error" id={`${id}-error`}>
          {error}
        </p>
      )}
    </div>
  );
}
