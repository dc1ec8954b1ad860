import type { ReactNode } from 'react';
import './marks.css';

const GRAVENESS: Readonly<Record<number, string>> = {
  1: 'Gravest: it may be with the customer already',
  2: 'Grave: something is known to be wrong',
  3: 'To be cleared up: nothing is known to be wrong',
};

/** How grave a hold is, as slanted strokes: three for 1 (perhaps with the customer already), one for 3. */
export function Graveness({ level }: { readonly level: number }) {
  const strokes = Math.max(1, 4 - level);
  const words = GRAVENESS[level] ?? `Graveness ${level}`;
  return (
    <span className={`graveness graveness--${level}`} role="img" aria-label={words} title={words}>
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
