import { compareText } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { HoldRecord } from '../holds/hold-record.js';
import { parseStored } from '../intake/parse-stored.js';
import {
  BookChanges,
  BookTransaction,
  PendingEvent,
  StoredEntry,
  SubjectRecord,
  TryAgain,
} from '../ports/book-store.js';
import { SealedEntry } from '../ports/seal.js';
import { Draft } from './draft.js';
import { withEntry, withState } from './grow-ledger.js';
import { InboxRow, LedgerRow, MemoryTables } from './memory-tables.js';
import { RowLocks } from './row-locks.js';
import { roundTrip } from './round-trip.js';
import { settleEvents } from './settle-events.js';
import { cameToLightOn, ledgerOfHold, readEntry, readHolds, readSubject } from './stored-rows.js';

const EMPTY = JSON.stringify(null);

/** A fold's view of the tables; what it writes is seen by others once it is committed. */
export class MemoryTransaction implements BookTransaction {
  readonly #tables: MemoryTables;
  readonly #locks: RowLocks;
  readonly #now: () => string;
  readonly #inbox: Draft<number, InboxRow>;
  readonly #ledgers: Draft<StreamKey, LedgerRow>;
  readonly #holds: Draft<string, string>;
  readonly #loaded = new Set<StreamKey>();
  readonly #claimed: number[] = [];
  #state: 'open' | 'spoilt' | 'ended' = 'open';

  constructor(tables: MemoryTables, locks: RowLocks, now: () => string) {
    this.#tables = tables;
    this.#locks = locks;
    this.#now = now;
    this.#inbox = new Draft(tables.inbox);
    this.#ledgers = new Draft(tables.ledgers);
    this.#holds = new Draft(tables.holds);
  }

  async claim(shard: number, limit: number): Promise<readonly PendingEvent[]> {
    return this.#claimWhere((row) => row.shard === shard, limit);
  }

  async claimDevices(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    return this.#claimWhere((row) => keys.includes(row.subject), Infinity);
  }

  async #claimWhere(wanted: (row: InboxRow) => boolean, limit: number): Promise<readonly PendingEvent[]> {
    await this.#step();
    const nowMs = Date.parse(this.#now());
    const free = this.#inbox
      .rows()
      .filter(
        (row) => wanted(row) && row.state === 'pending' && row.dueAtMs <= nowMs && !this.#tables.claims.has(row.number),
      )
      .slice(0, limit);
    for (const { number } of free) {
      this.#tables.claims.add(number);
      this.#claimed.push(number);
    }
    return free.map(({ number, payload, attempts, retried }) => ({
      number: String(number),
      event: parseStored(payload),
      attempts,
      retried,
    }));
  }

  async load(keys: readonly StreamKey[], ifKnown: readonly StreamKey[] = []): Promise<readonly SubjectRecord[]> {
    await this.#step();
    const wanted = [...new Set([...keys, ...ifKnown.filter((key) => this.#ledgers.get(key) !== undefined)])];
    await this.#lock(wanted);
    return wanted.sort(compareText).map((key) => {
      this.#loaded.add(key);
      return readSubject(this.#ledgers.get(key) ?? this.#open(key));
    });
  }

  async entries(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]> {
    await this.#step();
    const sorted = [...new Set(keys)].sort(compareText);
    return sorted.flatMap((key) => (this.#ledgers.get(key)?.entries ?? []).map(readEntry));
  }

  async holds(keys: readonly StreamKey[]): Promise<readonly HoldRecord[]> {
    await this.#step();
    return readHolds(this.#holds.rows()).filter((hold) =>
      keys.some((key) => ledgerOfHold(hold) === key || cameToLightOn(hold, key)),
    );
  }

  async hold(id: string): Promise<HoldRecord | undefined> {
    await this.#step();
    await this.#lock([holdLock(id)]);
    const row = this.#holds.get(id);
    return row === undefined ? undefined : (JSON.parse(row) as HoldRecord);
  }

  async setupVersion(): Promise<number> {
    await this.#step();
    return this.#tables.revisions.length;
  }

  /** As with a database, what was refused spoils the transaction: it cannot be committed any more. */
  async write(changes: BookChanges): Promise<void> {
    await this.#step();
    await this.#lock([...changes.holds.map(({ id }) => holdLock(id)), ...changes.subjects.map(({ key }) => key)]);
    try {
      for (const { key } of changes.subjects) this.#openUnloaded(key);
      this.#append(changes.entries);
      for (const record of changes.subjects)
        this.#ledgers.set(record.key, withState(this.#ledgerForUpdate(record.key), record));
      for (const hold of changes.holds) this.#holds.set(hold.id, JSON.stringify(hold));
      settleEvents(this.#inbox, changes, this.#now());
    } catch (error) {
      this.#state = 'spoilt';
      throw error;
    }
  }

  /** @throws Error where a write was refused before. */
  commit(): void {
    this.#requireOpen();
    this.#inbox.commit();
    this.#ledgers.commit();
    this.#holds.commit();
  }

  /** Lets go of its locks; a transaction that was not committed leaves nothing behind. */
  end(): void {
    this.#state = 'ended';
    this.#locks.releaseAll(this);
    for (const number of this.#claimed) this.#tables.claims.delete(number);
  }

  async #step(): Promise<void> {
    await roundTrip();
    this.#requireOpen();
  }

  async #lock(names: readonly string[]): Promise<void> {
    try {
      await this.#locks.take(this, names);
    } catch (error) {
      this.#state = 'spoilt';
      throw error;
    }
  }

  #requireOpen(): void {
    if (this.#state === 'ended') throw new Error('The transaction has ended.');
    if (this.#state === 'spoilt') throw new Error('The transaction was refused something before and is rolled back.');
  }

  #append(entries: readonly StoredEntry[]): void {
    for (const stored of [...entries].sort((a, b) => a.entry.seq - b.entry.seq)) {
      const { subject } = stored.entry;
      this.#ledgers.set(subject, withEntry(this.#ledgerForUpdate(subject), stored));
    }
  }

  #openUnloaded(key: StreamKey): void {
    if (this.#loaded.has(key)) return;
    if (this.#ledgers.get(key) !== undefined) throw new TryAgain(`${key} came into the book in between.`);
    this.#open(key);
    this.#loaded.add(key);
  }

  #open(key: StreamKey): LedgerRow {
    const row = { key, state: EMPTY, entries: [] };
    this.#ledgers.set(key, row);
    return row;
  }

  #ledgerForUpdate(key: StreamKey): LedgerRow {
    const row = this.#ledgers.get(key);
    if (row === undefined || !this.#loaded.has(key))
      throw new Error(`${key} has an entry, but its record is not written.`);
    return row;
  }
}

/** No stream key has a space, so that a hold's lock is never taken for a subject's. */
function holdLock(id: string): string {
  return `hold ${id}`;
}
