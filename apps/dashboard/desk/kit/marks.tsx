import type { ReactNode } from 'react';
import './marks.css';

/** How grave a hold is, as strokes: three for 1 (perhaps with the customer already), one for 3. */
export function Graveness({ level }: { readonly level: number }) {
  const strokes = Math.max(1, 4 - level);
  return (
    <span className={`graveness graveness--${level}`} role="img" aria-label={`Graveness ${level} of 3, 1 the gravest`}>
      {Array.from({ length: strokes }, (_, n) => (
        <i key={n} />
      ))}
    </span>
  );
}

interface MarkProps {
  /** `stop` refuses, `caution` warns, `good` is in order, `plain` says no more than its words. */
  readonly tone?: 'plain' | 'stop' | 'caution' | 'good';
  readonly children: ReactNode;
}

const SIGNS = { plain: '', stop: '✕ ', caution: '! ', good: '✓ ' } as const;

/** A word that stands out, by its sign as well as by its colour. */
export function Mark({ tone = 'plain', children }: MarkProps) {
  return (
    <span className={`mark mark--${tone}`}>
      {SIGNS[tone] !== '' && <span aria-hidden="true">{SIGNS[tone]}</span>}
      {children}
    </span>
  );
}
