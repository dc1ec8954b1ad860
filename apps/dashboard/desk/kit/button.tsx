import type { ButtonHTMLAttributes } from 'react';

interface ButtonProps extends ButtonHTMLAttributes<HTMLButtonElement> {
  /** `main`: what the page is for; `stop`: what cannot be taken back. */
  readonly tone?: 'plain' | 'main' | 'stop' | 'bare';
  /** At work: stays focusable, and does nothing. */
  readonly busy?: boolean;
}

export function Button({ tone = 'plain', busy = false, type = 'button', onClick, children, ...rest }: ButtonProps) {
  return (
    <button
      {...rest}
      type={type}
      className={`button button--${tone} ${rest.className ?? ''}`}
      aria-busy={busy}
      aria-disabled={busy || rest['aria-disabled'] === true}
      onClick={(event) => {
        if (busy || rest['aria-disabled'] === true) event.preventDefault();
        else onClick?.(event);
      }}
    >
      {children}
      {busy && <span aria-hidden="true"> …</span>}
    </button>
  );
}
