import type { BookEffect } from '../../../../libs/ledger/fold/book-effect.js';
import { ANNULLED, effectsOf, type Entry, eventKeyOf, memberIn, REJUDGED } from './entry-parts.js';

/** What later entries say of the event of an earlier one. */
export interface LaterWord {
  /** The entry that strikes it. */
  readonly struckBy: number | null;
  /** The last entry that judges it anew, and what is judged of it since. */
  readonly anew: { readonly seq: number; readonly effects: readonly BookEffect[] } | null;
}

/** Later words by event. */
export type LaterWords = ReadonlyMap<string, LaterWord>;

const NOTHING: LaterWord = { struckBy: null, anew: null };

/** Reads what entries say of earlier ones. @param entries in any order; of two that judge anew the later holds */
export function laterWords(entries: readonly Entry[]): LaterWords {
  const words = new Map<string, LaterWord>();
  const note = (event: unknown, word: Partial<LaterWord>) => {
    const key = eventKeyOf(event);
    if (key !== undefined) words.set(key, { ...(words.get(key) ?? NOTHING), ...word });
  };
  for (const entry of [...entries].sort((a, b) => a.seq - b.seq)) {
    if (entry.type === ANNULLED) note(entry.event, { struckBy: entry.seq });
    if (entry.type === REJUDGED) {
      for (const { event, effects } of changesOf(entry)) note(event, { anew: { seq: entry.seq, effects } });
    }
  }
  return words;
}

/** What later entries say of this one. */
export function laterOf(entry: Entry, words: LaterWords): LaterWord {
  // The entry that strikes an event names that event too, and is not struck by it.
  return entry.type === ANNULLED ? NOTHING : (words.get(eventKeyOf(entry.event) ?? '') ?? NOTHING);
}

/** An entry with what is judged of it now. */
export interface ToldEntry extends LaterWord {
  readonly entry: Entry;
  /** As judged last; none where the entry was struck. */
  readonly effects: readonly BookEffect[];
}

/**
 * Entries as they are judged now, by when they happened.
 * @param words what later entries say; unless given, read from the entries themselves
 */
export function ledgerStory(entries: readonly Entry[], words = laterWords(entries)): readonly ToldEntry[] {
  return [...entries]
    .sort((a, b) => Date.parse(a.time) - Date.parse(b.time) || a.seq - b.seq)
    .map((entry) => {
      const later = laterOf(entry, words);
      const effects = later.struckBy !== null ? [] : (later.anew?.effects ?? effectsOf(entry));
      return { entry, ...later, effects };
    });
}

function changesOf(entry: Entry): readonly { readonly event: unknown; readonly effects: readonly BookEffect[] }[] {
  const changes = memberIn(entry.data, 'changes');
  return Array.isArray(changes)
    ? changes.map((change: unknown) => {
        const effects = memberIn(change, 'effects');
        return { event: memberIn(change, 'event'), effects: Array.isArray(effects) ? effectsOf({ effects }) : [] };
      })
    : [];
}
