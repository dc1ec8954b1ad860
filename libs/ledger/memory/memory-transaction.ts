import { compareText, EventRef, refKey } from '../../domain/events/event-order.js';
import { SetupData, SetupKind } from '../../domain/setup/setup-data.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { ContainmentDone, ContainmentRecord, ended } from '../containment/containment-record.js';
import { HoldRecord } from '../holds/hold-record.js';
import { parseStored } from '../intake/parse-stored.js';
import { LimitRecheck, OpenKind } from '../limits/limit-recheck.js';
import {
  BookChanges,
  BookTransaction,
  LedgerHead,
  PendingEvent,
  PendingOrStanding,
  Standing,
  StandingAsked,
  StoredEntry,
  SubjectRecord,
  TryAgain,
} from '../ports/book-store.js';
import { RequestRef } from '../requests/request-ref.js';
import { entryOf, SealedEntry } from '../ports/seal.js';
import { StoredRevision } from '../ports/setup-store.js';
import { AnswerBefore, KeyedRequest } from '../ports/clearance-store.js';
import { Draft } from './draft.js';
import { requireHead, withEntry, withState } from './grow-ledger.js';
import { readClearances, reaching } from './memory-clearances.js';
import { AnswerRow, InboxRow, LedgerRow, MemoryTables } from './memory-tables.js';
import { openKeysOf, recheckName } from './memory-rechecks.js';
import { readRevisions } from './memory-setup-store.js';
import { nextRevision } from './next-revision.js';
import { RowLocks } from './row-locks.js';
import { roundTrip } from './round-trip.js';
import { settleEvents } from './settle-events.js';
import { cameToLightOn, ledgerOfHold, readHolds, readSubject } from './stored-rows.js';

const EMPTY = JSON.stringify(null);

/** A fold's view of the tables; what it writes is seen by others once it is committed. */
export class MemoryTransaction implements BookTransaction {
  readonly #tables: MemoryTables;
  readonly #locks: RowLocks;
  readonly #now: () => string;
  readonly #inbox: Draft<number, InboxRow>;
  readonly #ledgers: Draft<StreamKey, LedgerRow>;
  readonly #holds: Draft<string, string>;
  readonly #containments: Draft<string, string>;
  readonly #contained: Draft<string, string>;
  readonly #clearances: Draft<string, string>;
  readonly #answers: Draft<string, AnswerRow>;
  readonly #rechecks: Draft<string, string>;
  readonly #claimed = new Set<number>();
  readonly #loaded = new Set<StreamKey>();
  readonly #revisions: StoredRevision[] = [];
  /** What the log is told of, a list for each write. */
  readonly #told: (readonly StoredEntry[])[] = [];
  readonly #left: Promise<unknown>[] = [];
  #releaseSetup: (() => void) | null = null;
  #state: 'open' | 'spoilt' | 'ended' = 'open';

  constructor(tables: MemoryTables, locks: RowLocks, now: () => string) {
    this.#tables = tables;
    this.#locks = locks;
    this.#now = now;
    this.#inbox = new Draft(tables.inbox);
    this.#ledgers = new Draft(tables.ledgers);
    this.#holds = new Draft(tables.holds);
    this.#containments = new Draft(tables.containments);
    this.#contained = new Draft(tables.contained);
    this.#rechecks = new Draft(tables.rechecks);
    this.#clearances = new Draft(tables.clearances);
    this.#answers = new Draft(tables.answers);
  }

  async claim(shards: readonly number[], limit: number): Promise<readonly PendingEvent[]> {
    return this.#claimWhere((row) => shards.includes(row.shard), limit);
  }

  async claimDevices(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    return this.#claimWhere((row) => keys.includes(row.subject), Infinity);
  }

  async unclaimedDevices(keys: readonly StreamKey[]): Promise<readonly StreamKey[]> {
    await this.#step();
    const nowMs = Date.parse(this.#now());
    const waits = (row: InboxRow): boolean => row.state === 'pending' && row.dueAtMs <= nowMs;
    const open = this.#inbox.rows().filter((row) => keys.includes(row.subject) && waits(row));
    return [...new Set(open.filter(({ number }) => !this.#claimed.has(number)).map(({ subject }) => subject))];
  }

  async #claimWhere(wanted: (row: InboxRow) => boolean, limit: number): Promise<readonly PendingEvent[]> {
    await this.#step();
    const nowMs = Date.parse(this.#now());
    const due = this.#inbox.rows().filter((row) => wanted(row) && row.state === 'pending' && row.dueAtMs <= nowMs);
    const claimed: InboxRow[] = [];
    for (const row of due) {
      const own = this.#claimed.has(row.number);
      if (claimed.length < limit && !own && this.#locks.tryTake(this, eventLock(row))) claimed.push(row);
    }
    return this.#claim(claimed);
  }

  async claimSubjects(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]> {
    await this.#step();
    const isPending = (row: InboxRow): boolean => keys.includes(row.subject) && row.state === 'pending';
    for (const row of this.#inbox.rows().filter(isPending)) await this.#lock([eventLock(row)]);
    // Whoever had claimed one may have folded it.
    return this.#claim(this.#inbox.rows().filter((row) => isPending(row) && this.#locks.tryTake(this, eventLock(row))));
  }

  #claim(rows: readonly InboxRow[]): readonly PendingEvent[] {
    for (const { number } of rows) this.#claimed.add(number);
    return rows.map(({ number, payload, attempts, retried }) => ({
      number: String(number),
      event: parseStored(payload),
      attempts,
      retried,
    }));
  }

  async requestsOf(numbers: readonly string[], limit: number): Promise<readonly RequestRef[]> {
    await this.#step();
    const rows = this.#inbox.rows().filter(({ number }) => numbers.includes(String(number)));
    const kept = rows.sort((a, b) => a.number - b.number).flatMap(({ request }) => request ?? []);
    return [...new Map(kept.map((request) => [JSON.stringify(request), { ...request }])).values()].slice(0, limit);
  }

  async peek(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    await this.#step();
    const rows = [...new Set(keys)].sort(compareText).map((key) => this.#ledgers.get(key));
    return rows.flatMap((row) => (row === undefined ? [] : [readSubject(row)]));
  }

  async clearances(ids: readonly string[]): Promise<readonly ClearanceRecord[]> {
    await this.#step();
    const known = ids.filter((id) => this.#clearances.get(id) !== undefined);
    await this.#lock(known.map(clearanceLock));
    return readClearances(known.flatMap((id) => this.#clearances.get(id) ?? []));
  }

  async clearancesOn(keys: readonly StreamKey[], openAt?: string): Promise<readonly ClearanceRecord[]> {
    await this.#step();
    const found = (): readonly ClearanceRecord[] => reaching(readClearances(this.#clearances.rows()), keys, openAt);
    await this.#lock(found().map(({ id }) => clearanceLock(id)));
    return found();
  }

  async subjectsReaching(keys: readonly StreamKey[], openAt: string): Promise<readonly StreamKey[]> {
    await this.#step();
    return [...new Set(reaching(readClearances(this.#clearances.rows()), keys, openAt).map(({ subject }) => subject))];
  }

  async answerBefore({ caller, key, bodyHash }: KeyedRequest): Promise<AnswerBefore> {
    await this.#step();
    const request = JSON.stringify([caller, key]);
    await this.#lock([`answer ${request}`]);
    const known = this.#answers.get(request);
    if (known === undefined) {
      this.#answers.set(request, { bodyHash, answer: JSON.stringify(null), at: this.#now() });
      return undefined;
    }
    return known.bodyHash === bodyHash ? { answer: JSON.parse(known.answer) as unknown } : 'other-body';
  }

  async keepAnswer({ caller, key, bodyHash }: KeyedRequest, answer: unknown): Promise<void> {
    await this.#step();
    this.#answers.set(JSON.stringify([caller, key]), { bodyHash, answer: JSON.stringify(answer), at: this.#now() });
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

  async standing({ keys, ifKnown, alsoHeld, openAt }: StandingAsked): Promise<Standing> {
    const wanted = [...keys, ...ifKnown];
    const records = await this.load(keys, ifKnown);
    const holds = await this.holds([...wanted, ...alsoHeld]);
    return { records, holds, clearances: await this.clearancesOn(wanted, openAt) };
  }

  async pendingOrStanding(claimed: readonly StreamKey[], asked: StandingAsked): Promise<PendingOrStanding> {
    const pending = await this.claimSubjects(claimed);
    return pending.length > 0 ? { pending } : { standing: await this.standing(asked) };
  }

  async heads(keys: readonly StreamKey[]): Promise<readonly LedgerHead[]> {
    return (await this.load([], keys)).map(({ key, headSeq, headHash }) => ({ key, headSeq, headHash }));
  }

  async entries(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]> {
    await this.#step();
    const sorted = [...new Set(keys)].sort(compareText);
    return sorted.flatMap((key) => (this.#ledgers.get(key)?.entries ?? []).map(entryOf));
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

  async dropParked(ref: EventRef): Promise<boolean> {
    await this.#step();
    const row = this.#inbox.rows().find((one) => one.state === 'parked' && refKey(one) === refKey(ref));
    if (row !== undefined) this.#inbox.set(row.number, { ...row, state: 'applied', parked: null });
    return row !== undefined;
  }

  async limitRecheck(limit: string, revision: number): Promise<LimitRecheck | undefined> {
    await this.#step();
    await this.#lock([`recheck ${recheckName(limit, revision)}`]);
    const row = this.#rechecks.get(recheckName(limit, revision));
    return row === undefined ? undefined : (JSON.parse(row) as LimitRecheck);
  }

  async openKeys(kind: OpenKind, after: StreamKey | null, limit: number): Promise<readonly StreamKey[]> {
    await this.#step();
    return openKeysOf(this.#tables, kind, after, limit);
  }

  async setupVersion(): Promise<number> {
    await this.#step();
    return this.#tables.revisions.length + this.#revisions.length;
  }

  async enterSetup<K extends SetupKind>(
    kind: K,
    name: string,
    body: SetupData[K],
    by: string,
  ): Promise<StoredRevision> {
    await this.#step();
    await this.#takeSetup();
    const known = [...readRevisions(this.#tables), ...this.#revisions];
    const { revision, isNew } = nextRevision(known, { kind, name, body, by, at: this.#now() });
    if (isNew) this.#revisions.push(revision);
    return revision;
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
      for (const head of changes.heads ?? []) requireHead(this.#ledgerForUpdate(head.key), head);
      for (const hold of changes.holds) this.#holds.set(hold.id, JSON.stringify(hold));
      if (changes.contained !== undefined) this.#contain(changes.contained);
      for (const one of changes.clearances ?? []) this.#clearances.set(one.id, JSON.stringify(one));
      const { recheck } = changes;
      if (recheck !== undefined) {
        this.#rechecks.set(recheckName(recheck.limit, recheck.revision), JSON.stringify(recheck));
      }
      settleEvents(this.#inbox, changes, this.#now());
    } catch (error) {
      this.#state = 'spoilt';
      throw error;
    }
  }

  leave(asked: Promise<unknown>): void {
    this.#left.push(asked);
    // Told by `left`.
    asked.catch(() => undefined);
  }

  /** @throws what the first of those that were left and failed threw */
  async left(): Promise<void> {
    await Promise.all(this.#left);
  }

  /** @throws Error where a write was refused before. */
  commit(): void {
    this.#requireOpen();
    this.#inbox.commit();
    this.#ledgers.commit();
    this.#holds.commit();
    this.#containments.commit();
    this.#contained.commit();
    this.#rechecks.commit();
    this.#clearances.commit();
    this.#answers.commit();
    for (const revision of this.#revisions) this.#tables.revisions.push(JSON.stringify(revision));
    for (const entries of this.#told) this.#tables.log.deliver(entries.map(({ entry }) => entry));
    this.#tables.changes.tell({
      entries: this.#told.flat().map(({ entry: { subject, seq } }) => ({ subject, seq })),
      holds: this.#holds.changed(),
      clearances: this.#clearances.changed(),
      atMs: Date.parse(this.#now()),
    });
  }

  /** Lets go of its locks; a transaction that was not committed leaves nothing behind. */
  end(): void {
    this.#state = 'ended';
    this.#locks.releaseAll(this);
    this.#releaseSetup?.();
  }

  /** Keeps everybody else from adding revisions until this transaction ends. */
  async #takeSetup(): Promise<void> {
    if (this.#releaseSetup !== null) return;
    while (this.#tables.revising !== null) await this.#tables.revising;
    this.#tables.revising = new Promise((resolve) => {
      this.#releaseSetup = () => {
        this.#tables.revising = null;
        resolve();
      };
    });
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

  #contain(done: ContainmentDone): void {
    const row = this.#containments.get(done.id);
    const record = row === undefined ? undefined : (JSON.parse(row) as ContainmentRecord);
    this.#containments.set(done.id, JSON.stringify(ended(record, done)));
    for (const one of done.contained) this.#contained.set(`${done.id} ${one.key}`, JSON.stringify(one));
  }

  #append(entries: readonly StoredEntry[]): void {
    for (const stored of [...entries].sort((a, b) => a.entry.seq - b.entry.seq)) {
      const { subject } = stored.entry;
      this.#ledgers.set(subject, withEntry(this.#ledgerForUpdate(subject), stored));
    }
    if (entries.length > 0) this.#told.push(entries);
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

function eventLock({ number }: InboxRow): string {
  return `event ${String(number).padStart(12, '0')}`;
}

function clearanceLock(id: string): string {
  return `clearance ${id}`;
}

/** No stream key has a space, so that a hold's lock is never taken for a subject's. */
function holdLock(id: string): string {
  return `hold ${id}`;
}
