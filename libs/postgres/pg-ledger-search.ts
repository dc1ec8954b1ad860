import pg from 'pg';
import { StreamKey } from '../domain/subject/subject.js';
import { Interval } from '../ledger/containment/suspect-cause.js';
import { BOOK_ENTRY_TYPES } from '../ledger/fold/book-effect.js';
import { SubjectRecord } from '../ledger/ports/book-store.js';
import { FactRow, LedgerSearch, MarkWish, Whereabouts } from '../ledger/ports/ledger-search.js';
import { EntryBytes, entryOf, SealedEntry } from '../ledger/ports/seal.js';
import { SUBJECT_COLUMNS, SubjectRow, toRecord } from './subject-row.js';

/** An event that an entry strikes is no fact any more. */
const NOT_STRUCK = `NOT EXISTS (SELECT FROM ledger_entry a WHERE a.source = e.source AND a.event_id = e.event_id
  AND a.type = 'heatbook.entry.annulled.v1')`;

/** Finds entries in Postgres by their marks. */
export class PgLedgerSearch implements LedgerSearch {
  constructor(private readonly pool: pg.Pool) {}

  async factsMarked(wish: MarkWish, { from, to }: Interval, limit: number): Promise<readonly FactRow[]> {
    const [first, end] = 'mark' in wish ? [wish.mark, null] : [wish.prefix, textAfter(wish.prefix)];
    const { rows } = await this.pool.query<FactQueryRow>(
      `SELECT e.subject, e.seq, e.type, e.source, e.event_id,
         to_char(e.happened_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') AS at
       FROM (SELECT unnest(subjects) AS subject, unnest(seqs) AS seq FROM mark_group
           WHERE ${end === null ? 'mark = $1 AND $5::text IS NULL' : 'mark >= $1 AND mark < $5'}
             AND hour >= date_trunc('hour', $2::timestamptz, 'UTC') AND hour < $3::timestamptz) m
         JOIN ledger_entry e USING (subject, seq)
       WHERE e.happened_at >= $2::timestamptz AND e.happened_at < $3::timestamptz AND ${NOT_STRUCK}
       ORDER BY e.subject, e.seq LIMIT $4`,
      [first, from, to, limit, end],
    );
    return rows.map(({ source, event_id: id, ...row }) => ({ ...row, event: { source, id } }));
  }

  async ledgersMarked(marks: readonly string[], limit: number): Promise<readonly StreamKey[]> {
    const { rows } = await this.pool.query<{ subject: string }>(
      `SELECT DISTINCT unnest(subjects) AS subject FROM mark_group WHERE mark = ANY($1) ORDER BY subject LIMIT $2`,
      [marks, limit],
    );
    return rows.map(({ subject }) => subject);
  }

  async factsWithin(
    { from, to }: Interval,
    { after, limit }: { after: { subject: StreamKey; seq: number } | null; limit: number },
  ): Promise<readonly SealedEntry[]> {
    const { rows } = await this.pool.query<EntryBytes>(
      `SELECT hash, bytes FROM ledger_entry e
       WHERE happened_at >= $1::timestamptz AND happened_at < $2::timestamptz AND ${NOT_STRUCK}
         AND ($3::text IS NULL OR (subject, seq) > ($3, $4::integer))
       ORDER BY subject, seq LIMIT $5`,
      [from, to, after?.subject ?? null, after?.seq ?? null, limit],
    );
    return rows.map(entryOf);
  }

  async entriesOf(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]> {
    const { rows } = await this.pool.query<EntryBytes>(
      `SELECT hash, bytes FROM ledger_entry WHERE subject = ANY($1) ORDER BY subject, seq`,
      [keys],
    );
    return rows.map(entryOf);
  }

  async subjectsOf(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]> {
    const { rows } = await this.pool.query<SubjectRow>(
      `SELECT ${SUBJECT_COLUMNS} FROM subject WHERE key = ANY($1) ORDER BY key`,
      [keys],
    );
    return rows.map(toRecord);
  }

  async whereabouts(keys: readonly StreamKey[]): Promise<readonly Whereabouts[]> {
    const { rows } = await this.pool.query<{ key: string; status: Whereabouts['status']; unit: string | null }>(
      `SELECT key, status, assembly || '/' || serial AS unit FROM subject
       WHERE key = ANY($1) AND kind = 'device' ORDER BY key`,
      [keys],
    );
    return rows;
  }

  async signedInClear(by: string): Promise<number> {
    // Goes through every ledger, for which an erasure has the time; few entries are of a type that people sign.
    const { rows } = await this.pool.query<{ entries: number }>(
      `SELECT count(*)::integer AS entries FROM ledger_entry
       WHERE type = ANY ($2) AND bytes::json #>> '{data,signature,by}' = $1
         AND bytes::json #>> '{data,signature,printedName}' IS NOT NULL`,
      [by, SIGNED_TYPES],
    );
    return rows[0]?.entries ?? 0;
  }
}

/** What people signed when signatures still had printed names; what they sign since has commitments. */
const SIGNED_TYPES = [
  BOOK_ENTRY_TYPES.holdDisposed,
  BOOK_ENTRY_TYPES.holdReleased,
  BOOK_ENTRY_TYPES.concessionSigned,
  BOOK_ENTRY_TYPES.concessionWithdrawn,
  BOOK_ENTRY_TYPES.annulled,
];

interface FactQueryRow {
  readonly subject: string;
  readonly seq: number;
  readonly type: string;
  readonly source: string;
  readonly event_id: string;
  readonly at: string;
}

/** The first text after all that begin with a prefix, by code point. */
function textAfter(prefix: string): string {
  return prefix.slice(0, -1) + String.fromCharCode(prefix.charCodeAt(prefix.length - 1) + 1);
}
