import { memberOf } from '../../ledger/audits/member-of.js';
import { Effect } from '../../domain/book/effect.js';
import { EventRef, orderTime, refKey } from '../../domain/events/event-order.js';
import { BOOK_ENTRY_TYPES } from '../../ledger/fold/book-effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { AuditLedger } from '../../ledger/audits/audit-source.js';
import { effectsOf, eventKey, factOf, isHeat } from './story-entry.js';

/** What later entries say of earlier ones, and how much there is of what; found by reading the ledger once. */
export interface StoryMarks {
  /** By event: the entry that strikes it. */
  readonly annulled: ReadonlyMap<string, number>;
  /** By event: the last entry that judges it anew, and what is judged of it since. */
  readonly rejudged: ReadonlyMap<string, Rejudged>;
  /** Entries that tell of something earlier than what the ledger had been told already. */
  readonly late: ReadonlySet<number>;
  readonly heats: number;
  readonly inspections: number;
}

export interface Rejudged {
  readonly seq: number;
  readonly effects: readonly Effect[];
}

/** Memory grows with what was struck, judged anew or told late, not with the ledger. */
export async function storyMarks(ledger: AuditLedger): Promise<StoryMarks> {
  const annulled = new Map<string, number>();
  const rejudged = new Map<string, Rejudged>();
  const late = new Set<number>();
  let [newest, heats, inspections] = ['', 0, 0];
  for await (const entry of ledger.entries()) {
    const key = eventKey(entry);
    const fact = factOf(entry);
    if (entry.type === BOOK_ENTRY_TYPES.annulled && key !== undefined) annulled.set(key, entry.seq);
    if (entry.type === BOOK_ENTRY_TYPES.rejudged) {
      for (const { event, effects } of changesOf(entry)) rejudged.set(refKey(event), { seq: entry.seq, effects });
    }
    if (fact === undefined) continue;
    const at = orderTime(entry.time);
    if (at < newest) late.add(entry.seq);
    else newest = at;
    if (isHeat(fact, effectsOf(entry))) heats += 1;
    if (fact.type === 'heatbook.inspection.recorded.v1') inspections += 1;
  }
  return { annulled, rejudged, late, heats, inspections };
}

/** The events that an entry judges anew, as the fold writes them. */
export function changesOf(
  entry: SealedEntry,
): readonly { readonly event: EventRef; readonly effects: readonly Effect[] }[] {
  const changes = memberOf(entry.data, 'changes');
  return Array.isArray(changes) ? (changes as { event: EventRef; effects: Effect[] }[]) : [];
}
