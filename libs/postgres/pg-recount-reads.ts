import { EventRef } from '../domain/events/event-order.js';
import { StreamKey } from '../domain/subject/subject.js';
import { ClearanceRecord } from '../ledger/clearances/clearance-record.js';
import { BOOK_ENTRY_TYPES } from '../ledger/fold/book-effect.js';
import { HoldRecord } from '../ledger/holds/hold-record.js';
import { SubjectRecord } from '../ledger/ports/book-store.js';
import { LogCheckReads } from '../ledger/ports/log-store.js';
import { ReadStore } from '../ledger/ports/read-store.js';
import { InboxPlace, KeptEntry, KeptMark, RecountReads } from '../ledger/ports/recount-store.js';
import { rowsOf } from './bulk-rows.js';
import { HOLD_COLUMNS, HoldRow, toHold } from './hold-row.js';
import { clearancesReaching } from './pg-clearances.js';
import { PgLogCheckReads } from './pg-log-check-reads.js';
import { PgReadStore } from './pg-read-store.js';
import { Queries } from './queries.js';
import { SUBJECT_COLUMNS, SubjectRow, toRecord } from './subject-row.js';

const MARK_ROWS = 500;

/** The ledger that tells of a hold. */
const LEDGER_OF_HOLD = `coalesce(unit_key, stream)`;

interface EntryRow {
  readonly subject: StreamKey;
  readonly seq: number;
  readonly hash: string;
  readonly bytes: string;
  readonly type: string;
  readonly source: string | null;
  readonly event_id: string | null;
  readonly recorded_at: Date;
  readonly happened_at: string | null;
}

interface MarkRow {
  readonly mark: string;
  /** As Postgres writes it, to go on from. */
  readonly place: string;
  readonly hour: string;
  readonly number: string;
  readonly subjects: readonly string[];
  readonly seqs: readonly number[];
}

/** Reads for a recount, within one transaction. */
export class PgRecountReads implements RecountReads {
  readonly log: LogCheckReads;
  readonly ledger: ReadStore['ledger'];

  constructor(private readonly queries: Queries) {
    this.log = new PgLogCheckReads(queries);
    const reads = new PgReadStore(queries);
    this.ledger = (key, page) => reads.ledger(key, page);
  }

  async subjects(after: StreamKey | null, limit: number): Promise<readonly SubjectRecord[]> {
    const { rows } = await this.queries.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject WHERE key > $1 ORDER BY key LIMIT $2`,
      [after ?? '', limit],
    );
    return rows.map(toRecord);
  }

  async subjectsOf(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    const { rows } = await this.queries.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject WHERE key = ANY($1) ORDER BY key`,
      [keys],
    );
    return rows.map(toRecord);
  }

  async strayKeys(limit: number): Promise<readonly StreamKey[]> {
    const { rows } = await this.queries.query<{ key: string }>(
      `SELECT DISTINCT key FROM (
         SELECT subject AS key FROM ledger_entry
         UNION ALL SELECT ${LEDGER_OF_HOLD} FROM hold
         UNION ALL SELECT subject FROM clearance) named
       WHERE NOT EXISTS (SELECT FROM subject WHERE subject.key = named.key COLLATE "C") ORDER BY key LIMIT $1`,
      [limit],
    );
    return rows.map(({ key }) => key);
  }

  async entries(
    keys: readonly StreamKey[],
    after: { readonly subject: StreamKey; readonly seq: number } | null,
    limit: number,
  ): Promise<readonly KeptEntry[]> {
    // From where the last page ended: the ledgers before that are not looked at again.
    const left = keys.filter((key) => after === null || key >= after.subject);
    const { rows } = await this.queries.query<EntryRow>(
      `SELECT subject, seq, hash, bytes, type, source, event_id, recorded_at,
         to_char(happened_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') AS happened_at
       FROM ledger_entry WHERE subject = ANY($1) AND (subject, seq) > ($2 COLLATE "C", $3::integer)
       ORDER BY subject, seq LIMIT $4`,
      [left, after?.subject ?? '', after?.seq ?? 0, limit],
    );
    return rows.map(toKept);
  }

  async holds(keys: readonly StreamKey[]): Promise<readonly HoldRecord[]> {
    const { rows } = await this.queries.query<HoldRow>(
      `SELECT ${HOLD_COLUMNS} FROM hold WHERE stream = ANY($1) OR unit_key = ANY($1) ORDER BY raised_at, id`,
      [keys],
    );
    return rows.map(toHold);
  }

  clearances(keys: readonly StreamKey[]): Promise<readonly ClearanceRecord[]> {
    return clearancesReaching(this.queries, keys, undefined);
  }

  async waiting(events: readonly EventRef[]): Promise<readonly EventRef[]> {
    const { rows } = await this.queries.query<EventRef>(
      `SELECT e.source, e.event_id AS id FROM json_to_recordset($1::json) AS asked(source text, id text)
         JOIN intake_event e ON e.source = asked.source COLLATE "C" AND e.event_id = asked.id COLLATE "C"
       WHERE EXISTS (SELECT FROM intake_pending p WHERE p.number = e.number)
          OR EXISTS (SELECT FROM intake_parked p WHERE p.number = e.number)`,
      [rowsOf(events.map(({ source, id }) => ({ source, id })))],
    );
    return rows;
  }

  async inbox(after: string, limit: number): Promise<readonly InboxPlace[]> {
    const { rows } = await this.queries.query<InboxPlace>(
      `SELECT e.number, e.source, e.event_id AS id, e.subject,
         p.number IS NOT NULL AS pending, k.number IS NOT NULL AS parked, l.told, l.struck,
         k.number IS NOT NULL AND EXISTS (SELECT FROM hold WHERE stream = e.subject AND reason = 'event-parked'
           AND causes @> jsonb_build_array(jsonb_build_object('source', e.source, 'id', e.event_id))) AS held
       FROM (SELECT * FROM intake_event WHERE number > $1 ORDER BY number LIMIT $2) e
         LEFT JOIN intake_pending p USING (number) LEFT JOIN intake_parked k USING (number),
       LATERAL (SELECT count(*) FILTER (WHERE type = e.type)::integer AS told,
           coalesce(bool_or(type = $3), false) AS struck
         FROM ledger_entry WHERE source = e.source AND event_id = e.event_id AND subject = e.subject OFFSET 0) l
       ORDER BY e.number`,
      [after, limit, BOOK_ENTRY_TYPES.annulled],
    );
    return rows;
  }

  async strayNumbers(limit: number): Promise<readonly string[]> {
    const { rows } = await this.queries.query<{ number: string }>(
      `SELECT number FROM (SELECT number FROM intake_pending UNION SELECT number FROM intake_parked) w
       WHERE NOT EXISTS (SELECT FROM intake_event e WHERE e.number = w.number) ORDER BY number LIMIT $1`,
      [limit],
    );
    return rows.map(({ number }) => number);
  }

  async unaccepted(limit: number): Promise<readonly { readonly subject: StreamKey; readonly seq: number }[]> {
    const { rows } = await this.queries.query<{ subject: string; seq: number }>(
      `SELECT subject, seq FROM ledger_entry l WHERE event_id IS NOT NULL AND NOT EXISTS (
         SELECT FROM intake_event e WHERE e.source = l.source AND e.event_id = l.event_id)
       ORDER BY subject, seq LIMIT $1`,
      [limit],
    );
    return rows;
  }

  async *marks(): AsyncIterable<readonly KeptMark[]> {
    for (let last: MarkRow | undefined; ;) {
      const { rows }: { rows: MarkRow[] } = await this.queries.query<MarkRow>(
        `SELECT mark, hour::text AS place, number, subjects, seqs,
           CASE WHEN hour = '-infinity' THEN '-infinity'
             ELSE to_char(hour AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"') END AS hour
         FROM mark_group WHERE $1::text IS NULL OR (mark, hour, number) > ($1 COLLATE "C", $2::timestamptz, $3::bigint)
         ORDER BY mark, mark_group.hour, number LIMIT $4`,
        [last?.mark ?? null, last?.place ?? null, last?.number ?? null, MARK_ROWS],
      );
      if (rows.length > 0) yield rows.flatMap(marksOfRow);
      last = rows.at(-1);
      if (last === undefined || rows.length < MARK_ROWS) return;
    }
  }
}

function toKept({ subject, seq, hash, bytes, type, source, event_id, recorded_at, happened_at }: EntryRow): KeptEntry {
  const event = source === null || event_id === null ? null : { source, id: event_id };
  const filed = { type, event, recordedAt: recorded_at.toISOString(), happenedAt: happened_at };
  return { subject, seq, hash, bytes, filed };
}

function marksOfRow({ mark, hour, subjects, seqs }: MarkRow): KeptMark[] {
  return subjects.map((subject, at) => ({ mark, hour, subject, seq: seqs[at] ?? 0 }));
}
