import { StreamKey } from '../../domain/subject/subject.js';
import { BookEffect } from '../fold/book-effect.js';
import { SealedEntry } from '../ports/seal.js';

/** What an entry of the book's own tells of a hold or a clearance. */
export interface ToldAct {
  readonly effect: BookEffect;
  readonly ledger: StreamKey;
  readonly seq: number;
  /** RFC 3339. */
  readonly time: string;
  /** Name of the person, where one did it. */
  readonly by: string | undefined;
  readonly note: unknown;
}

/** By id of the hold or clearance, in the order in which its ledger tells them. */
export function toldActs(entries: readonly SealedEntry[], member: 'hold' | 'clearance'): Map<string, ToldAct[]> {
  const acts = new Map<string, ToldAct[]>();
  for (const { subject, seq, time, actor, data, effects } of entries) {
    for (const effect of effects as readonly BookEffect[]) {
      const id = member in effect ? idOf(effect, member) : undefined;
      // Which event used a step is told by the event's own effects, of which there may be a later word.
      if (id === undefined || effect.kind === 'clearance-used') continue;
      const { note } = data as { readonly note?: unknown };
      const { name: by } = actor as { readonly name?: string };
      const act = { effect, ledger: subject, seq, time, by, note };
      const known = acts.get(id);
      if (known === undefined) acts.set(id, [act]);
      else known.push(act);
    }
  }
  return acts;
}

function idOf(effect: BookEffect, member: 'hold' | 'clearance'): string | undefined {
  if (member === 'hold') return 'hold' in effect ? effect.hold : undefined;
  return 'clearance' in effect ? effect.clearance : undefined;
}
