import { refKey } from '../../domain/events/event-order.js';
import { AuditLedger } from '../../ledger/audits/audit-source.js';
import { BOOK_ENTRY_TYPES } from '../../ledger/fold/book-effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { EpcisEvent } from './epcis-event.js';
import { eventsOfEntry, Struck } from './events-of-entry.js';
import { HouseUris } from './house-uris.js';
import { toldEvent } from './told-event.js';

/** What came of a ledger; it is whole once its events have been read to their end. */
export class LedgerTally {
  entries = 0;
  events = 0;
  /** Among the events. */
  errorDeclarations = 0;
  /** Entries that came to no event, by type. */
  readonly leftOut = new Map<string, number>();

  constructor(readonly ledger: Pick<AuditLedger, 'subject' | 'headHash'>) {}

  count(entry: SealedEntry, events: number): void {
    this.entries += 1;
    this.events += events;
    if (events === 0) this.leftOut.set(entry.type, (this.leftOut.get(entry.type) ?? 0) + 1);
  }
}

/**
 * The events of a ledger in the order of its entries; after them, where entries were struck, their events once more with an
 * error declaration. Keeps nothing but what was struck.
 * @throws Error where the ledger has fewer entries than it says
 */
export async function* ledgerEvents(
  ledger: AuditLedger,
  uris: HouseUris,
  tally: LedgerTally,
): AsyncGenerator<EpcisEvent> {
  const struck = new Map<string, Struck>();
  for await (const entry of ledger.entries()) {
    if (entry.event !== null && entry.type === BOOK_ENTRY_TYPES.annulled) {
      struck.set(refKey(entry.event), struckBy(entry));
    }
    const events = eventsOfEntry(entry, uris);
    tally.count(entry, events.length);
    yield* events;
  }
  if (struck.size === 0) return;
  for await (const entry of ledger.entries()) {
    const because =
      entry.event === null || toldEvent(entry) === undefined ? undefined : struck.get(refKey(entry.event));
    if (because === undefined) continue;
    const events = eventsOfEntry(entry, uris, because);
    tally.events += events.length;
    tally.errorDeclarations += events.length;
    yield* events;
  }
}

function struckBy({ time, seq, hash, data }: SealedEntry): Struck {
  const { note = null } = (data as { readonly signed?: { readonly note?: string } }).signed ?? {};
  return { at: time, note, seq, hash };
}
