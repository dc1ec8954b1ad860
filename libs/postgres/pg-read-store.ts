import { StreamKey } from '../domain/subject/subject.js';
import { ParkingReason } from '../domain/book/apply-event.js';
import { BOOK_ENTRY_TYPES } from '../ledger/fold/book-effect.js';
import { ClearanceRecord } from '../ledger/clearances/clearance-record.js';
import { HoldRecord, HoldState } from '../ledger/holds/hold-record.js';
import { SubjectRecord } from '../ledger/ports/book-store.js';
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
} from '../ledger/ports/read-store.js';
import { ClearanceFilter } from '../ledger/ports/clearance-store.js';
import { NamedAssembly, NamedDevice, NamedUnit, SerialWish } from '../ledger/ports/name-reads.js';
import { LimitRecheck, OpenKind } from '../ledger/limits/limit-recheck.js';
import { EntryBytes, entryOf, SealedEntry } from '../ledger/ports/seal.js';
import { fromCursor, isUuid } from './cursor.js';
import { summariseHolds } from './hold-queries.js';
import { HOLD_COLUMNS, HoldRow, toHold } from './hold-row.js';
import { listHolds } from './list-holds.js';
import { listUnits, Sight } from './list-units.js';
import { assembliesNamed, devicesNamed, unitsNamed } from './name-queries.js';
import { clearancesById, clearancesReaching, listClearances } from './pg-clearances.js';
import { Queries } from './queries.js';
import { IS_OPEN, rechecksOf } from './pg-rechecks.js';
import { pageOf } from './page-of.js';
import { SUBJECT_COLUMNS, SubjectRow, toRecord } from './subject-row.js';

/** Where an event stands, and where it will: a hold that it calls for is on one of these or came to light on one. */
const LEDGERS_OF_EVENT = `ARRAY(SELECT subject FROM ledger_entry WHERE source = $2 AND event_id = $3
  UNION SELECT subject FROM intake_event WHERE source = $2 AND event_id = $3)`;

type EventRefText = { readonly source: string; readonly id: string };

/** The book's read side on Postgres. */
export class PgReadStore implements ReadStore {
  /** @param sight what its connections see */
  constructor(
    private readonly queries: Queries,
    private readonly sight: Sight = 'house',
  ) {}

  async subject(key: StreamKey): Promise<SubjectRecord | undefined> {
    return (await this.subjects([key]))[0];
  }

  async subjects(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    const { rows } = await this.queries.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject WHERE key = ANY($1) ORDER BY key`,
      [keys],
    );
    return rows.map(toRecord);
  }

  async ledger(
    key: StreamKey,
    page: { limit: number; order: 'asc' | 'desc'; afterSeq: number | null; type?: string },
  ): Promise<readonly SealedEntry[]> {
    const { limit, order, afterSeq, type } = page;
    const { rows } = await this.queries.query<EntryBytes>(
      `SELECT hash, bytes FROM ledger_entry
       WHERE subject = $1 AND ($2::integer IS NULL OR seq ${order === 'asc' ? '>' : '<'} $2)
         AND ($3::text IS NULL OR type = $3)
       ORDER BY seq ${order === 'asc' ? 'ASC' : 'DESC'} LIMIT $4`,
      [key, afterSeq, type ?? null, limit],
    );
    return rows.map(entryOf);
  }

  async ledgerBytes(
    key: StreamKey,
    { limit, afterSeq }: { readonly limit: number; readonly afterSeq: number | null },
  ): Promise<readonly EntryBytes[]> {
    const { rows } = await this.queries.query<EntryBytes>(
      `SELECT hash, bytes FROM ledger_entry WHERE subject = $1 AND seq > $2 ORDER BY seq LIMIT $3`,
      [key, afterSeq ?? 0, limit],
    );
    return rows;
  }

  async entriesAt(
    places: readonly { readonly subject: StreamKey; readonly seq: number }[],
  ): Promise<readonly SealedEntry[]> {
    if (places.length === 0) return [];
    const { rows } = await this.queries.query<EntryBytes>(
      // Each by its key: OFFSET 0 keeps the planner from reading the ledgers whole.
      `SELECT e.hash, e.bytes
       FROM unnest($1::text[], $2::integer[]) WITH ORDINALITY AS asked(subject, seq, n),
       LATERAL (SELECT hash, bytes FROM ledger_entry
         WHERE ledger_entry.subject = asked.subject COLLATE "C" AND ledger_entry.seq = asked.seq OFFSET 0) e
       ORDER BY asked.n`,
      [places.map(({ subject }) => subject), places.map(({ seq }) => seq)],
    );
    return rows.map(entryOf);
  }

  async holdsByIds(ids: readonly string[]): Promise<readonly HoldRecord[]> {
    const known = ids.filter(isUuid);
    if (known.length === 0) return [];
    const { rows } = await this.queries.query<HoldRow>(`SELECT ${HOLD_COLUMNS} FROM hold WHERE id = ANY($1)`, [known]);
    return rows.map(toHold);
  }

  clearancesByIds(ids: readonly string[]): Promise<readonly ClearanceRecord[]> {
    return clearancesById(this.queries, ids);
  }

  async siteWork({ from, to, limit }: { from: string; to: string; limit: number }): Promise<readonly SealedEntry[]> {
    const { rows } = await this.queries.query<EntryBytes>(
      `SELECT hash, bytes FROM ledger_entry e
       WHERE type IN ('heatbook.site.dressed.v1', 'heatbook.inspection.recorded.v1') AND subject NOT LIKE 'devices/%'
         AND recorded_at >= $1::timestamptz AND recorded_at < $2::timestamptz
         AND NOT EXISTS (SELECT FROM ledger_entry a WHERE a.source = e.source AND a.event_id = e.event_id
           AND a.type = 'heatbook.entry.annulled.v1')
       ORDER BY recorded_at, subject, seq LIMIT $3`,
      [from, to, limit],
    );
    return rows.map(entryOf);
  }

  async openSubjects(kind: OpenKind, after: StreamKey | null, limit: number): Promise<readonly SubjectRecord[]> {
    const { rows } = await this.queries.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject
       WHERE kind = $1 AND ${IS_OPEN} AND ($2::text IS NULL OR key > $2) ORDER BY key LIMIT $3`,
      [kind, after, limit],
    );
    return rows.map(toRecord);
  }

  async limitRechecks(limit?: string): Promise<readonly LimitRecheck[]> {
    return rechecksOf(this.queries, limit ?? null);
  }

  units(filter: UnitFilter, page: PageRequest): Promise<Page<UnitRow>> {
    return listUnits(this.queries, this.sight, filter, page);
  }

  unitsNamed(wish: SerialWish, limit: number): Promise<readonly NamedUnit[]> {
    return unitsNamed(this.queries, wish, limit);
  }

  devicesNamed(beginning: string, limit: number): Promise<readonly NamedDevice[]> {
    return devicesNamed(this.queries, beginning, limit);
  }

  assembliesNamed(beginning: string, limit: number): Promise<readonly NamedAssembly[]> {
    return assembliesNamed(this.queries, beginning, limit);
  }

  async holds(filter: HoldFilter, page: PageRequest, order: HoldOrder = 'age'): Promise<Page<HoldRecord>> {
    return listHolds(this.queries, filter, page, order);
  }

  async holdSummary(filter: HoldFilter, now: string): Promise<HoldSummary> {
    return summariseHolds(this.queries, filter, now);
  }

  async holdById(id: string): Promise<HoldRecord | undefined> {
    if (!isUuid(id)) return undefined;
    const { rows } = await this.queries.query<HoldRow>(`SELECT ${HOLD_COLUMNS} FROM hold WHERE id = $1`, [id]);
    return rows.map(toHold)[0];
  }

  async holdsOn(keys: readonly StreamKey[], states: readonly HoldState[] = ['open']): Promise<readonly HoldRecord[]> {
    const { rows } = await this.queries.query<HoldRow>(
      `SELECT ${HOLD_COLUMNS} FROM hold WHERE stream = ANY($1) AND state = ANY($2)
       ORDER BY raised_at, id`,
      [keys, states],
    );
    return rows.map(toHold);
  }

  async holdsByEvent({ source, id }: EventRefText): Promise<readonly HoldRecord[]> {
    const { rows } = await this.queries.query<HoldRow>(
      // By the ledgers first: row-level security keeps the index on causes from being used, since @> could tell of rows
      // that are not shown.
      `SELECT ${HOLD_COLUMNS} FROM hold
       WHERE causes @> $1::jsonb AND (stream = ANY (${LEDGERS_OF_EVENT}) OR unit_key = ANY (${LEDGERS_OF_EVENT}))
       ORDER BY raised_at, id`,
      [JSON.stringify([{ source, id }]), source, id],
    );
    return rows.map(toHold);
  }

  async eventStatus({ source, id }: EventRefText): Promise<EventStatus | undefined> {
    const { rows } = await this.queries.query<{
      type: string;
      subject: string;
      pending: boolean;
      reason: ParkingReason | null;
      request_id: string | null;
      traceparent: string | null;
    }>(
      `SELECT e.type, e.subject, w.number IS NOT NULL AS pending, p.reason, e.request_id, e.traceparent
       FROM intake_event e LEFT JOIN intake_pending w USING (number) LEFT JOIN intake_parked p USING (number)
       WHERE e.source = $1 AND e.event_id = $2`,
      [source, id],
    );
    const [found] = rows;
    if (found === undefined) return undefined;
    const { rows: told } = await this.queries.query<{ subject: string; seq: number; hash: string; type: string }>(
      `SELECT subject, seq, hash, type FROM ledger_entry WHERE source = $1 AND event_id = $2 ORDER BY subject, seq`,
      [source, id],
    );
    const { type, subject, pending, reason, request_id: requestId, traceparent } = found;
    const settled = told.some((entry) => entry.type === BOOK_ENTRY_TYPES.annulled) ? 'annulled' : 'applied';
    const state = pending ? 'pending' : reason === null ? settled : 'parked';
    return {
      state,
      subject,
      type,
      reason,
      entries: told.map(({ subject: ledger, seq, hash }) => ({ subject: ledger, seq, hash })),
      ...(requestId !== null && { request: { id: requestId, traceparent } }),
    };
  }

  async parked({ limit, cursor }: PageRequest): Promise<Page<ParkedRow>> {
    const [after] = fromCursor(cursor, 1) ?? [];
    if (after !== undefined && !/^\d{1,18}$/.test(after))
      throw new RangeError('The cursor is not one that this list gave.');
    const { rows } = await this.queries.query<ParkedQueryRow>(
      `SELECT p.number, e.source, e.event_id, e.type, e.subject, p.reason, p.parked_at
       FROM intake_parked p JOIN intake_event e USING (number)
       WHERE $1::bigint IS NULL OR p.number > $1::bigint ORDER BY p.number LIMIT $2`,
      [after ?? null, limit + 1],
    );
    return pageOf(rows, limit, ({ number }) => [number], toParkedRow);
  }

  async clearance(id: string): Promise<ClearanceRecord | undefined> {
    return (await clearancesById(this.queries, [id]))[0];
  }

  clearanceList(filter: ClearanceFilter, now: string, page: PageRequest): Promise<Page<ClearanceRecord>> {
    return listClearances(this.queries, filter, now, page);
  }

  openClearances(keys: readonly StreamKey[], at: string): Promise<readonly ClearanceRecord[]> {
    return clearancesReaching(this.queries, keys, at);
  }

  async backlog(): Promise<{ pending: number; oldestReceivedAt: string | null; parked: number }> {
    const { rows } = await this.queries.query<{ pending: number; oldest: Date | null; parked: number }>(
      `SELECT (SELECT count(*)::integer FROM intake_pending) AS pending,
         (SELECT count(*)::integer FROM intake_parked) AS parked,
         (SELECT received_at FROM intake_event WHERE number = (SELECT min(number) FROM intake_pending)) AS oldest`,
    );
    const { pending = 0, parked = 0, oldest = null } = rows[0] ?? {};
    return { pending, parked, oldestReceivedAt: oldest?.toISOString() ?? null };
  }
}

interface ParkedQueryRow {
  readonly number: string;
  readonly source: string;
  readonly event_id: string;
  readonly type: string;
  readonly subject: string;
  readonly reason: ParkingReason;
  readonly parked_at: Date;
}

function toParkedRow({ source, event_id, type, subject, reason, parked_at }: ParkedQueryRow): ParkedRow {
  return { source, id: event_id, type, subject, reason, parkedAt: parked_at.toISOString() };
}
