import { setTimeout as pause } from 'node:timers/promises';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { AccessStore } from './access-store.js';
import {
  Acceptance,
  BookChanges,
  BookStore,
  BookTransaction,
  IncomingEvent,
  PendingEvent,
  StoredEntry,
  SubjectRecord,
} from './book-store.js';
import { deviceState, unitState } from './book-samples.contract.js';
import { ContainmentStore } from './containment-store.js';
import { CustomerReads } from './customer-reads.js';
import { KeyStore } from './key-store.js';
import { LogStore } from './log-store.js';
import { LedgerSearch } from './ledger-search.js';
import { NoticeStore } from './notice-store.js';
import { ReadStore } from './read-store.js';
import { RecountStore } from './recount-store.js';
import { RetentionStore } from './retention-store.js';
import { EntryBody, Seal, SealedEntry } from './seal.js';
import { SetupStore } from './setup-store.js';
import { ChangeStore } from './change-store.js';
import { StationStore } from './station-store.js';
import { TraceStore } from './trace-store.js';

/** An empty book of one kind, for one test. The stores share their data; one object may play all of them. */
export interface StoresUnderTest {
  /** Spread over two shards or more. */
  readonly book: BookStore;
  readonly read: ReadStore;
  readonly customers: CustomerReads;
  readonly access: AccessStore;
  readonly setup: SetupStore;
  readonly keys: KeyStore;
  readonly traces: TraceStore;
  readonly notices: NoticeStore;
  readonly search: LedgerSearch;
  readonly containments: ContainmentStore;
  readonly siteLog: LogStore;
  readonly recount: RecountStore;
  readonly retention: RetentionStore;
  readonly stations: StationStore;
  readonly changes: ChangeStore;
  /** Moves the clock of the stores; null where they live in real time. */
  readonly advance: ((ms: number) => Promise<void>) | null;
  close(): Promise<void>;
}

export const NO_CHANGES: BookChanges = { subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [] };

export const STATION = '/stations/bench-1';

type EntryWish = Partial<Pick<EntryBody, 'type' | 'time' | 'recordedAt' | 'event' | 'actor' | 'data' | 'effects'>>;

/** Stores under test with what a test needs to fill them and to look at them. */
export class BookBench {
  readonly book: BookStore;
  readonly read: ReadStore;
  readonly customers: CustomerReads;
  readonly access: AccessStore;
  readonly setup: SetupStore;
  readonly keys: KeyStore;
  readonly traces: TraceStore;
  readonly notices: NoticeStore;
  readonly search: LedgerSearch;
  readonly containments: ContainmentStore;
  readonly siteLog: LogStore;
  readonly recount: RecountStore;
  readonly retention: RetentionStore;
  readonly stations: StationStore;
  readonly changes: ChangeStore;

  constructor(
    private readonly stores: StoresUnderTest,
    private readonly seal: Seal,
  ) {
    this.book = stores.book;
    this.read = stores.read;
    this.customers = stores.customers;
    this.access = stores.access;
    this.setup = stores.setup;
    this.keys = stores.keys;
    this.traces = stores.traces;
    this.notices = stores.notices;
    this.search = stores.search;
    this.containments = stores.containments;
    this.siteLog = stores.siteLog;
    this.recount = stores.recount;
    this.retention = stores.retention;
    this.stations = stores.stations;
    this.changes = stores.changes;
  }

  close(): Promise<void> {
    return this.stores.close();
  }

  /** An event about a subject; `note` makes the content differ. */
  incoming(id: string, subject: StreamKey = 'BRD-1/0001', note = 'as seen', source = STATION): IncomingEvent {
    const kind = parseStream(subject)?.kind;
    const type = kind === 'device' ? 'heatbook.device.scrapped.v1' : 'heatbook.unit.scrapped.v1';
    const time = '2026-03-02T09:30:00+01:00';
    const payload = this.seal.canonical({ specversion: '1.0', id, source, type, subject, time, data: { note } });
    return { source, id, type, subject, contentHash: this.seal.sha256Hex(payload), payload };
  }

  accept(...ids: string[]): Promise<readonly Acceptance[]> {
    return this.book.accept(ids.map((id) => this.incoming(id)));
  }

  /** The shard of a subject that nothing is pending for. */
  async shardFor(subject: StreamKey): Promise<number> {
    const before = new Set(await this.book.shardsDue());
    await this.book.accept([this.incoming(`shard of ${subject}`, subject)]);
    const added = (await this.book.shardsDue()).find((shard) => !before.has(shard));
    if (added === undefined) throw new Error(`the shard of ${subject} is due already`);
    await this.settle((pending) => ({ done: pending.filter((p) => p.event.subject === subject).map(number) }));
    return added;
  }

  /** Everything that is pending and due, shard by shard. */
  pending(limit = 1000): Promise<readonly PendingEvent[]> {
    return this.book.exclusively((tx) => this.#claimAll(tx, limit));
  }

  async pendingIds(): Promise<string[]> {
    return (await this.pending()).map(eventId);
  }

  /** Claims everything and writes what the test makes of it. */
  settle(changes: (pending: readonly PendingEvent[]) => Partial<BookChanges>): Promise<void> {
    return this.book.exclusively(async (tx) => {
      await tx.write({ ...NO_CHANGES, ...changes(await this.#claimAll(tx, 1000)) });
    });
  }

  async #claimAll(tx: BookTransaction, limit: number): Promise<PendingEvent[]> {
    const found: PendingEvent[] = [];
    for (let shard = 0; shard < this.book.shards; shard += 1) found.push(...(await tx.claim([shard], limit)));
    return found;
  }

  /** A transaction of its own that keeps holds, subjects or whatever else as they are given. */
  write(changes: Partial<BookChanges>): Promise<void> {
    return this.book.exclusively((tx) => tx.write({ ...NO_CHANGES, ...changes }));
  }

  /** Runs with a shard that nobody else has. */
  async inShard<T>(shard: number, work: (tx: BookTransaction) => Promise<T>): Promise<T> {
    const result = await this.book.withShards([shard], async (tx) => ({ value: await work(tx) }));
    if (result === 'busy') throw new Error(`shard ${shard} is busy`);
    return result.value;
  }

  /** Appends entries to a ledger in a transaction of its own. */
  append(key: StreamKey, count = 1, wish: EntryWish = {}): Promise<readonly SealedEntry[]> {
    return this.book.exclusively((tx) => this.appendIn(tx, key, count, wish));
  }

  async appendIn(tx: BookTransaction, key: StreamKey, count = 1, wish: EntryWish = {}): Promise<SealedEntry[]> {
    const { subject, entries } = this.grown(await this.loadOne(tx, key), count, wish);
    await tx.write({ ...NO_CHANGES, subjects: [subject], entries });
    return entries.map(({ entry }) => entry);
  }

  async loadOne(tx: BookTransaction, key: StreamKey): Promise<SubjectRecord> {
    const [record] = await tx.load([key]);
    if (record === undefined) throw new Error(`${key} was not loaded`);
    return record;
  }

  /** A subject after `count` more entries, and those entries. */
  grown(record: SubjectRecord, count = 1, wish: EntryWish = {}) {
    const entries: StoredEntry[] = [];
    let { headSeq, headHash } = record;
    for (let added = 0; added < count; added += 1) {
      const stored = this.entry(record.key, headSeq + 1, headHash, wish);
      entries.push(stored);
      headSeq += 1;
      headHash = stored.entry.hash;
    }
    const subject: SubjectRecord = { key: record.key, state: record.state ?? stateOf(record.key), headSeq, headHash };
    return { subject, entries };
  }

  entry(subject: StreamKey, seq: number, prevHash: string, wish: EntryWish = {}): StoredEntry {
    const body: EntryBody = {
      subject,
      seq,
      type: 'heatbook.site.cleaned.v1',
      time: '2026-03-02T09:30:00+01:00',
      recordedAt: '2026-03-02T08:30:01.000Z',
      event: null,
      actor: { station: 'bench-1' },
      data: { agent: 'water', step: seq },
      effects: [{ kind: 'noted', refdes: 'U7' }],
      rules: 3,
      ...wish,
    };
    const { bytes, hash } = this.seal.sealEntry(body, prevHash);
    return { entry: { ...body, prevHash, hash }, bytes };
  }

  /** Waits until a delay of `ms` is over, and then until `holds`. The test's own timeout bounds it. */
  async after(ms: number, holds: () => Promise<boolean>): Promise<void> {
    if (this.stores.advance !== null) await this.stores.advance(ms);
    while (!(await holds())) await pause(10);
  }

  /** Gives everyone else many chances to run, by asking the store something that changes nothing. */
  async giveWay(): Promise<void> {
    for (let time = 0; time < 25; time += 1) await this.read.backlog();
  }
}

export function number(pending: PendingEvent): string {
  return pending.number;
}

export function eventId(pending: PendingEvent): string {
  return pending.event.order.id;
}

function stateOf(key: StreamKey): SubjectRecord['state'] {
  const stream = parseStream(key);
  switch (stream?.kind) {
    case 'unit':
      return { kind: 'unit', state: unitState(stream.assembly, stream.serial) };
    case 'device':
      return { kind: 'device', state: deviceState(stream.device) };
    case 'station':
      return { kind: 'station', state: { station: stream.station, bath: null, last: null } };
    case undefined:
      throw new Error(`${key} is no stream`);
  }
}
