import { ParkingReason } from '../../domain/book/apply-event.js';
import { compareText, EventRef, orderTime, refKey } from '../../domain/events/event-order.js';
import { gravenessOf } from '../../domain/holds/graveness.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { HoldRecord, HoldState } from '../holds/hold-record.js';
import { SubjectRecord } from '../ports/book-store.js';
import {
  EventStatus,
  HoldFilter,
  HoldOrder,
  HoldSummary,
  Page,
  PageRequest,
  ParkedRow,
  ReadStore,
  UnitFilter,
  UnitRow,
} from '../ports/read-store.js';
import { ClearanceFilter } from '../ports/clearance-store.js';
import { NamedAssembly, NamedDevice, NamedUnit, SerialWish } from '../ports/name-reads.js';
import { EntryBytes, entryOf, SealedEntry } from '../ports/seal.js';
import { LimitRecheck, OpenKind } from '../limits/limit-recheck.js';
import { allRechecks, openKeysOf } from './memory-rechecks.js';
import { holdMatches } from './hold-matches.js';
import { keysetPage } from './keyset-page.js';
import { clearancePage, readClearances, reaching } from './memory-clearances.js';
import { assembliesNamed, devicesNamed, unitsNamed } from './memory-name-reads.js';
import { InboxRow, MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { readUnits } from './read-units.js';
import { ledgerOfHold, readHolds, readSubject } from './stored-rows.js';
import { summariseHolds } from './summarise-holds.js';

const SITE_WORK: ReadonlySet<string> = new Set(['heatbook.site.dressed.v1', 'heatbook.inspection.recorded.v1']);

function isFrom(time: string, from: string): boolean {
  return orderTime(time) >= orderTime(from);
}

/** The book's read side over what is committed in memory. */
export class MemoryReadStore implements ReadStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async subject(key: StreamKey): Promise<SubjectRecord | undefined> {
    const [record] = await this.subjects([key]);
    return record;
  }

  async subjects(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    await roundTrip();
    const rows = [...new Set(keys)].sort().map((key) => this.#tables.ledgers.get(key));
    return rows.flatMap((row) => (row === undefined ? [] : [readSubject(row)]));
  }

  async ledger(
    key: StreamKey,
    { limit, order, afterSeq, type }: { limit: number; order: 'asc' | 'desc'; afterSeq: number | null; type?: string },
  ): Promise<readonly SealedEntry[]> {
    await roundTrip();
    const entries = (this.#tables.ledgers.get(key)?.entries ?? []).map(entryOf);
    const inOrder = order === 'asc' ? entries : entries.reverse();
    const isAfter = (seq: number): boolean => afterSeq === null || (order === 'asc' ? seq > afterSeq : seq < afterSeq);
    return inOrder.filter((entry) => isAfter(entry.seq) && (type === undefined || entry.type === type)).slice(0, limit);
  }

  async ledgerBytes(
    key: StreamKey,
    { limit, afterSeq }: { readonly limit: number; readonly afterSeq: number | null },
  ): Promise<readonly EntryBytes[]> {
    await roundTrip();
    const rows = this.#tables.ledgers.get(key)?.entries ?? [];
    const later = rows.filter(({ seq }) => afterSeq === null || seq > afterSeq).slice(0, limit);
    return later.map(({ bytes, hash }) => ({ bytes, hash }));
  }

  async entriesAt(
    places: readonly { readonly subject: StreamKey; readonly seq: number }[],
  ): Promise<readonly SealedEntry[]> {
    await roundTrip();
    return places.flatMap(({ subject, seq }) => {
      const row = this.#tables.ledgers.get(subject)?.entries.find((entry) => entry.seq === seq);
      return row === undefined ? [] : [entryOf(row)];
    });
  }

  async holdsByIds(ids: readonly string[]): Promise<readonly HoldRecord[]> {
    await roundTrip();
    return readHolds([...new Set(ids)].flatMap((id) => this.#tables.holds.get(id) ?? []));
  }

  async clearancesByIds(ids: readonly string[]): Promise<readonly ClearanceRecord[]> {
    await roundTrip();
    return readClearances([...new Set(ids)].flatMap((id) => this.#tables.clearances.get(id) ?? []));
  }

  async siteWork({ from, to, limit }: { from: string; to: string; limit: number }): Promise<readonly SealedEntry[]> {
    await roundTrip();
    const units = [...this.#tables.ledgers.values()].filter(({ key }) => !key.startsWith('devices/'));
    const entries = units.flatMap((row) => row.entries.map(entryOf));
    const struck = new Set(
      entries.flatMap(({ type, event }) =>
        type === BOOK_ENTRY_TYPES.annulled && event !== null ? [refKey(event)] : [],
      ),
    );
    const within = entries.filter(
      ({ type, event, recordedAt }) =>
        SITE_WORK.has(type) &&
        (event === null || !struck.has(refKey(event))) &&
        isFrom(recordedAt, from) &&
        !isFrom(recordedAt, to),
    );
    const place = ({ recordedAt, subject }: SealedEntry): string => `${orderTime(recordedAt)} ${subject}`;
    return within.sort((a, b) => compareText(place(a), place(b)) || a.seq - b.seq).slice(0, limit);
  }

  async openSubjects(kind: OpenKind, after: StreamKey | null, limit: number): Promise<readonly SubjectRecord[]> {
    return this.subjects(openKeysOf(this.#tables, kind, after, limit));
  }

  async limitRechecks(limit?: string): Promise<readonly LimitRecheck[]> {
    await roundTrip();
    const wanted = allRechecks(this.#tables).filter((one) => limit === undefined || one.limit === limit);
    return wanted.sort((a, b) => compareText(a.limit, b.limit) || b.revision - a.revision);
  }

  async units(filter: UnitFilter, page: PageRequest): Promise<Page<UnitRow>> {
    await roundTrip();
    const fields = ['customer', 'assembly', 'serial', 'state'] as const;
    const rows = readUnits(this.#tables).filter((row) =>
      fields.every((field) => filter[field] === undefined || filter[field] === row[field]),
    );
    return keysetPage(rows, ({ assembly, serial }) => [assembly, serial], page);
  }

  async unitsNamed(wish: SerialWish, limit: number): Promise<readonly NamedUnit[]> {
    await roundTrip();
    return unitsNamed(this.#tables, wish, limit);
  }

  async devicesNamed(beginning: string, limit: number): Promise<readonly NamedDevice[]> {
    await roundTrip();
    return devicesNamed(this.#tables, beginning, limit);
  }

  async assembliesNamed(beginning: string, limit: number): Promise<readonly NamedAssembly[]> {
    await roundTrip();
    return assembliesNamed(this.#tables, beginning, limit);
  }

  async holds(filter: HoldFilter, page: PageRequest, order: HoldOrder = 'age'): Promise<Page<HoldRecord>> {
    await roundTrip();
    const rank = ({ reason }: HoldRecord): string[] => (order === 'age' ? [] : [String(gravenessOf(reason))]);
    return keysetPage(this.#matching(filter), (hold) => [...rank(hold), orderTime(hold.raisedAt), hold.id], page);
  }

  async holdSummary(filter: HoldFilter, now: string): Promise<HoldSummary> {
    await roundTrip();
    return summariseHolds(this.#matching(filter), now);
  }

  async holdById(id: string): Promise<HoldRecord | undefined> {
    await roundTrip();
    const row = this.#tables.holds.get(id);
    return row === undefined ? undefined : (JSON.parse(row) as HoldRecord);
  }

  async holdsOn(keys: readonly StreamKey[], states: readonly HoldState[] = ['open']): Promise<readonly HoldRecord[]> {
    await roundTrip();
    return this.#matching({}).filter((hold) => keys.includes(ledgerOfHold(hold)) && states.includes(hold.state));
  }

  async holdsByEvent(ref: EventRef): Promise<readonly HoldRecord[]> {
    await roundTrip();
    return this.#matching({}).filter(({ causes }) => causes.some((cause) => refKey(cause) === refKey(ref)));
  }

  async eventStatus(ref: EventRef): Promise<EventStatus | undefined> {
    await roundTrip();
    const row = this.#tables.inbox.get(this.#tables.numbers.get(refKey(ref)) ?? 0);
    if (row === undefined) return undefined;
    const entries = [...this.#tables.ledgers.values()].flatMap((ledger) =>
      ledger.entries.filter(({ event }) => event === refKey(ref)),
    );
    const isStruck = entries.some(({ bytes }) => (JSON.parse(bytes) as SealedEntry).type === BOOK_ENTRY_TYPES.annulled);
    return {
      state: row.state === 'applied' && isStruck ? 'annulled' : row.state,
      subject: row.subject,
      type: row.type,
      reason: row.parked === null ? null : (JSON.parse(row.parked.reason) as ParkingReason),
      entries: entries.map(({ subject, seq, hash }) => ({ subject, seq, hash })),
      ...(row.request !== undefined && { request: { ...row.request } }),
    };
  }

  async parked(page: PageRequest): Promise<Page<ParkedRow>> {
    await roundTrip();
    // Numbers as texts of one length, so that they sort like numbers.
    const { items, next } = keysetPage(
      this.#inState('parked'),
      ({ number }) => [String(number).padStart(16, '0')],
      page,
    );
    return { items: items.flatMap(parkedRow), next };
  }

  async clearance(id: string): Promise<ClearanceRecord | undefined> {
    await roundTrip();
    const row = this.#tables.clearances.get(id);
    return row === undefined ? undefined : readClearances([row])[0];
  }

  async clearanceList(filter: ClearanceFilter, now: string, page: PageRequest): Promise<Page<ClearanceRecord>> {
    await roundTrip();
    return clearancePage(readClearances(this.#tables.clearances.values()), filter, now, page);
  }

  async openClearances(keys: readonly StreamKey[], at: string): Promise<readonly ClearanceRecord[]> {
    await roundTrip();
    return reaching(readClearances(this.#tables.clearances.values()), keys, at);
  }

  async backlog() {
    await roundTrip();
    const pending = this.#inState('pending');
    const oldestReceivedAt = pending.map(({ receivedAt }) => receivedAt).sort()[0] ?? null;
    return { pending: pending.length, oldestReceivedAt, parked: this.#inState('parked').length };
  }

  #matching(filter: HoldFilter): HoldRecord[] {
    return readHolds(this.#tables.holds.values()).filter((hold) => holdMatches(hold, filter));
  }

  #inState(state: InboxRow['state']): InboxRow[] {
    return [...this.#tables.inbox.values()].filter((row) => row.state === state);
  }
}

function parkedRow({ source, id, type, subject, parked }: InboxRow): ParkedRow[] {
  if (parked === null) return [];
  return [{ source, id, type, subject, reason: JSON.parse(parked.reason) as ParkingReason, parkedAt: parked.at }];
}
