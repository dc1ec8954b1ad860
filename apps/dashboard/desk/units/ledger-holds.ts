import type { BookEffect } from '../../../../libs/ledger/fold/book-effect.js';
import { eventKeyOf, memberIn, textIn } from './entry-parts.js';

/** A hold as an entry calls for it or raises it. */
export interface CalledHold {
  readonly reason: string;
  readonly subject: HeldSubject;
  /** Named where a person raised it; the book's own are known by what they are about. */
  readonly id?: string;
}

type HeldSubject = Extract<BookEffect, { kind: 'hold-raised' }>['subject'];

/** The holds that an entry calls for or raises, each once. */
export function holdsCalled(effects: readonly BookEffect[]): readonly CalledHold[] {
  const called = new Map<string, CalledHold>();
  for (const effect of effects) {
    if (effect.kind === 'hold-raised') called.set(heldKey(effect), { ...heldOf(effect), id: effect.hold });
    else if (effect.kind === 'hold-called' && !called.has(heldKey(effect.cause)))
      called.set(heldKey(effect.cause), heldOf(effect.cause));
  }
  return [...called.values()];
}

function heldOf({ reason, subject }: Pick<CalledHold, 'reason' | 'subject'>): CalledHold {
  return { reason, subject };
}

/** Equal for what shares one hold while that is open. */
export function heldKey({ reason, subject }: { readonly reason: string; readonly subject: object }): string {
  return `${reason} ${JSON.stringify(Object.entries(subject).sort(([a], [b]) => (a < b ? -1 : 1)))}`;
}

/** What is needed of a hold to know it again. */
export interface KnownHold {
  readonly id: string;
  readonly reason: string;
  readonly subject: object;
  readonly cause: unknown;
}

/** Finds the hold that an event called for: that of its own, or the latest of the same kind that it joined. */
export type HoldFinder = (called: CalledHold, event: unknown, time: string) => string | undefined;

export function holdFinder(holds: readonly KnownHold[]): HoldFinder {
  return (called, event, time) => {
    if (called.id !== undefined) return called.id;
    const key = heldKey(called);
    const found = holds.filter((hold) => heldKey(hold) === key);
    const own = found.find(({ cause }) => eventKeyOf(cause) === eventKeyOf(event));
    const earlier = found
      .filter(({ cause }) => causedAt(cause) <= Date.parse(time))
      .sort((a, b) => causedAt(a.cause) - causedAt(b.cause));
    return (own ?? earlier.at(-1))?.id;
  };
}

function causedAt(cause: unknown): number {
  return typeof memberIn(cause, 'time') === 'string' ? Date.parse(textIn(cause, 'time') ?? '') : -Infinity;
}
