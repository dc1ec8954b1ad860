import { compareText, EventRef, refKey } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord, reachOf } from '../clearances/clearance-record.js';
import { isFact, marksOf } from '../containment/marks-of.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { HoldRecord } from '../holds/hold-record.js';
import { hourOf } from '../recount/check-marks.js';
import { SubjectRecord } from '../ports/book-store.js';
import { LogCheckReads } from '../ports/log-store.js';
import { ReadStore } from '../ports/read-store.js';
import { InboxPlace, KeptEntry, KeptMark, RecountReads, RecountStore } from '../ports/recount-store.js';
import { entryOf, SealedEntry } from '../ports/seal.js';
import { readClearances } from './memory-clearances.js';
import { MemoryLogStore } from './memory-log-store.js';
import { MemoryReadStore } from './memory-read-store.js';
import { EntryRow, InboxRow, MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { cameToLightOn, ledgerOfHold, readHolds, readSubject } from './stored-rows.js';

/** Reads a book in memory for a recount. Nobody writes while it does: it is of one moment as long as the caller waits. */
export class MemoryRecountStore implements RecountStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async snapshot<T>(work: (reads: RecountReads) => Promise<T>): Promise<T> {
    await roundTrip();
    return work(new MemoryRecountReads(this.#tables));
  }
}

class MemoryRecountReads implements RecountReads {
  readonly #tables: MemoryTables;
  readonly log: LogCheckReads;
  readonly ledger: ReadStore['ledger'];
  /** Entries of station events, by the event. */
  readonly #telling = new Map<string, SealedEntry[]>();

  constructor(tables: MemoryTables) {
    this.#tables = tables;
    this.log = new MemoryLogStore(tables);
    const reads = new MemoryReadStore(tables);
    this.ledger = (key, page) => reads.ledger(key, page);
    for (const entry of this.#entries()) {
      if (entry.event === null) continue;
      const key = refKey(entry.event);
      this.#telling.set(key, [...(this.#telling.get(key) ?? []), entry]);
    }
  }

  async subjects(after: StreamKey | null, limit: number): Promise<readonly SubjectRecord[]> {
    await roundTrip();
    const keys = [...this.#tables.ledgers.keys()].filter((key) => after === null || key > after).sort(compareText);
    return this.#records(keys.slice(0, limit));
  }

  async subjectsOf(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    await roundTrip();
    return this.#records([...new Set(keys)].sort(compareText));
  }

  async strayKeys(limit: number): Promise<readonly StreamKey[]> {
    await roundTrip();
    const known = this.#tables.ledgers;
    const strays = readHolds(this.#tables.holds.values()).flatMap(({ unit, ...hold }) => {
      const key = unit === null ? ledgerOfHold({ ...hold, unit }) : `${unit.assembly}/${unit.serial}`;
      return known.has(key) ? [] : [key];
    });
    return [...new Set(strays)].sort(compareText).slice(0, limit);
  }

  async entries(
    keys: readonly StreamKey[],
    after: { readonly subject: StreamKey; readonly seq: number } | null,
    limit: number,
  ): Promise<readonly KeptEntry[]> {
    await roundTrip();
    const isAfter = ({ subject, seq }: EntryRow): boolean =>
      after === null || (compareText(subject, after.subject) || seq - after.seq) > 0;
    return [...new Set(keys)]
      .sort(compareText)
      .flatMap((key) => this.#tables.ledgers.get(key)?.entries ?? [])
      .filter(isAfter)
      .slice(0, limit)
      .map(toKept);
  }

  async holds(keys: readonly StreamKey[]): Promise<readonly HoldRecord[]> {
    await roundTrip();
    const wanted = new Set(keys);
    return readHolds(this.#tables.holds.values()).filter(
      (hold) => wanted.has(ledgerOfHold(hold)) || keys.some((key) => cameToLightOn(hold, key)),
    );
  }

  async clearances(keys: readonly StreamKey[]): Promise<readonly ClearanceRecord[]> {
    await roundTrip();
    const wanted = new Set(keys);
    return readClearances(this.#tables.clearances.values()).filter((one) =>
      reachOf(one).some((key) => wanted.has(key)),
    );
  }

  async waiting(events: readonly EventRef[]): Promise<readonly EventRef[]> {
    await roundTrip();
    return events.filter((event) => {
      const row = this.#tables.inbox.get(this.#tables.numbers.get(refKey(event)) ?? -1);
      return row !== undefined && row.state !== 'applied';
    });
  }

  async inbox(after: string, limit: number): Promise<readonly InboxPlace[]> {
    await roundTrip();
    const rows = [...this.#tables.inbox.values()].filter(({ number }) => number > Number(after));
    return rows
      .sort((a, b) => a.number - b.number)
      .slice(0, limit)
      .map((row) => this.#placeOf(row));
  }

  async strayNumbers(): Promise<readonly string[]> {
    await roundTrip();
    return [];
  }

  async unaccepted(limit: number): Promise<readonly { readonly subject: StreamKey; readonly seq: number }[]> {
    await roundTrip();
    const unknown = this.#entries().filter(({ event }) => event !== null && !this.#tables.numbers.has(refKey(event)));
    return unknown.slice(0, limit).map(({ subject, seq }) => ({ subject, seq }));
  }

  async *marks(): AsyncIterable<readonly KeptMark[]> {
    await roundTrip();
    // They are not kept apart from the entries here.
    yield this.#entries().flatMap((entry) => {
      const { happenedAt, marks } = marksOf(entry);
      return marks.map((mark) => ({ mark, hour: hourOf(happenedAt), subject: entry.subject, seq: entry.seq }));
    });
  }

  #records(keys: readonly StreamKey[]): SubjectRecord[] {
    return keys.flatMap((key) => {
      const row = this.#tables.ledgers.get(key);
      return row === undefined ? [] : [readSubject(row)];
    });
  }

  #entries(): SealedEntry[] {
    return [...this.#tables.ledgers.values()].flatMap(({ entries }) => entries.map(entryOf));
  }

  #placeOf({ number, source, id, subject, type, state }: InboxRow): InboxPlace {
    const own = (this.#telling.get(refKey({ source, id })) ?? []).filter((entry) => entry.subject === subject);
    return {
      ...{ number: String(number), source, id, subject },
      pending: state === 'pending',
      parked: state === 'parked',
      told: own.filter((entry) => entry.type === type && isFact(entry)).length,
      struck: own.some((entry) => entry.type === BOOK_ENTRY_TYPES.annulled),
      held: readHolds(this.#tables.holds.values()).some(
        ({ reason, causes }) =>
          reason === 'event-parked' && causes.some((cause) => cause.source === source && cause.id === id),
      ),
    };
  }
}

function toKept(row: EntryRow): KeptEntry {
  const { type, event, recordedAt, ...entry } = entryOf(row);
  const { happenedAt } = marksOf({ ...entry, type, event, recordedAt });
  const { subject, seq, bytes, hash } = row;
  const filed = { type, event, recordedAt: new Date(recordedAt).toISOString(), happenedAt };
  return { subject, seq, bytes, hash, filed };
}
