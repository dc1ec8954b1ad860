import pg from 'pg';
import { streamOfHold } from '../domain/holds/hold-subject.js';
import { FloorLifeEnd } from '../domain/moisture/floor-life-end.js';
import { StreamKey } from '../domain/subject/subject.js';
import { HoldRecord } from '../ledger/holds/hold-record.js';
import { Acknowledgement, Deadline, Notice, NoticeKind } from '../ledger/notices/notice.js';
import { BookNoticeKind, DuePage, NoticeFilter, NoticeStore } from '../ledger/ports/notice-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { fromTimedCursor, isUuid, toCursor } from './cursor.js';
import { HOLD_COLUMNS, HoldRow, toHold } from './hold-row.js';
import { inTransaction } from './in-transaction.js';
import { rowsOf } from './bulk-rows.js';

interface NoticeRow {
  readonly id: string;
  readonly kind: NoticeKind;
  readonly level: Notice['level'];
  readonly subject: Notice['subject'];
  readonly item: string;
  readonly due_at: Date;
  readonly raised_at: Date;
  readonly detail: string;
  readonly remedy: string;
  readonly acknowledgement: Acknowledgement | null;
  readonly settled_at: Date | null;
}

const COLUMNS = 'id, kind, level, subject, item, due_at, raised_at, detail, remedy, acknowledgement, settled_at';

/** What tells a state by the columns of `notice`. */
const STATES = {
  open: 'settled_at IS NULL AND acknowledgement IS NULL',
  acknowledged: 'settled_at IS NULL AND acknowledgement IS NOT NULL',
  settled: 'settled_at IS NOT NULL',
} as const;

/** Where the instant of a notice `n` still stands. */
const STANDS: Readonly<Record<BookNoticeKind, string>> = {
  moisture: `SELECT FROM subject s WHERE s.key = n.stream AND s.clock_ends_at = n.due_at`,
  // Times of holds are read to the millisecond.
  'hold-overdue': `SELECT FROM hold h WHERE h.id::text = n.item AND h.state = 'open'
    AND date_trunc('milliseconds', h.due_at) = n.due_at`,
};

/** Notices on Postgres: that each is raised once is a unique key's doing. */
export class PgNoticeStore implements NoticeStore {
  constructor(private readonly pool: pg.Pool) {}

  async raise(deadlines: readonly Deadline[], { now, newId }: { now: string; newId: () => string }): Promise<number> {
    const rows = deadlines.map((one) => ({ ...one, id: newId(), stream: streamOfHold(one.subject), at: now }));
    return inTransaction(this.pool, async (client) => {
      // In the order of the key, so that two workers wait for each other and never in a circle.
      const { rows: kept } = await client.query<{ fresh: boolean }>(
        `INSERT INTO notice (id, kind, level, subject, stream, item, due_at, raised_at, detail, remedy)
         SELECT id, kind, level, subject, stream, item, "dueAt", at, detail, remedy
         FROM json_to_recordset($1::json) AS n(id uuid, kind text, level text, subject json, stream text COLLATE "C",
           item text COLLATE "C", "dueAt" timestamptz, at timestamptz, detail text, remedy text)
         WHERE n.level = 'due' OR NOT EXISTS (SELECT FROM notice d WHERE d.kind = n.kind AND d.stream = n.stream
           AND d.item = n.item AND d.due_at = n."dueAt" AND d.level = 'due')
         ORDER BY kind, stream, item, "dueAt", level
         ON CONFLICT ON CONSTRAINT notice_once DO UPDATE SET settled_at = NULL WHERE notice.settled_at IS NOT NULL
         RETURNING xmax = 0 AS fresh`,
        [rowsOf(rows)],
      );
      const due = rows.filter(({ level }) => level === 'due');
      if (due.length > 0) {
        await client.query(
          `UPDATE notice a SET settled_at = $2
           FROM json_to_recordset($1::json) AS n(kind text, stream text, item text, "dueAt" timestamptz)
           WHERE a.level = 'ahead' AND a.settled_at IS NULL AND a.kind = n.kind AND a.stream = n.stream
             AND a.item = n.item AND a.due_at = n."dueAt"`,
          [rowsOf(due), now],
        );
      }
      return kept.filter(({ fresh }) => fresh).length;
    });
  }

  async standing(kinds: readonly NoticeKind[]): Promise<readonly Notice[]> {
    const { rows } = await this.pool.query<NoticeRow>(
      `SELECT ${COLUMNS} FROM notice WHERE settled_at IS NULL AND kind = ANY($1)`,
      [kinds],
    );
    return rows.map(toNotice);
  }

  async settle(ids: readonly string[], at: string): Promise<void> {
    await this.pool.query(`UPDATE notice SET settled_at = $2 WHERE settled_at IS NULL AND id = ANY($1::uuid[])`, [
      ids,
      at,
    ]);
  }

  async settleMoved(kind: BookNoticeKind, at: string): Promise<void> {
    await this.pool.query(
      `UPDATE notice n SET settled_at = $2 WHERE n.kind = $1 AND n.settled_at IS NULL AND NOT EXISTS (${STANDS[kind]})`,
      [kind, at],
    );
  }

  async list({ kind, level, state }: NoticeFilter, { limit, cursor }: PageRequest): Promise<Page<Notice>> {
    const [dueAt, id] = fromTimedCursor(cursor) ?? [null, null];
    const { rows } = await this.pool.query<NoticeRow>(
      `SELECT ${COLUMNS} FROM notice
       WHERE ($1::text IS NULL OR kind = $1) AND ($2::text IS NULL OR level = $2)
         AND ($3::timestamptz IS NULL OR (due_at, id) > ($3, $4::uuid))
         AND ${state === undefined ? 'true' : STATES[state]}
       ORDER BY due_at, id LIMIT $5`,
      [kind ?? null, level ?? null, dueAt, id, limit + 1],
    );
    const items = rows.slice(0, limit).map(toNotice);
    const last = items.at(-1);
    return { items, next: last === undefined || rows.length <= limit ? null : toCursor([last.dueAt, last.id]) };
  }

  async acknowledge(id: string, acknowledgement: Acknowledgement): Promise<Notice | 'not-found' | 'not-open'> {
    if (!isUuid(id)) return 'not-found';
    const { rows } = await this.pool.query<NoticeRow>(
      `UPDATE notice SET acknowledgement = $2 WHERE id = $1 AND ${STATES.open} RETURNING ${COLUMNS}`,
      [id, JSON.stringify(acknowledgement)],
    );
    const [row] = rows;
    if (row !== undefined) return toNotice(row);
    const { rowCount } = await this.pool.query(`SELECT FROM notice WHERE id = $1`, [id]);
    return rowCount === 0 ? 'not-found' : 'not-open';
  }

  async countOpen(): Promise<Readonly<Partial<Record<NoticeKind, number>>>> {
    const { rows } = await this.pool.query<{ kind: string; open: number }>(
      `SELECT kind, count(*)::integer AS open FROM notice WHERE ${STATES.open} GROUP BY kind`,
    );
    return Object.fromEntries(rows.map(({ kind, open }) => [kind, open]));
  }

  async clocksDue({ now, after, limit }: DuePage): Promise<readonly StreamKey[]> {
    const { rows } = await this.pool.query<{ key: string }>(
      `SELECT key FROM subject s
       WHERE clock_warns_at <= $1 AND ($2::text IS NULL OR key > $2)
         AND NOT EXISTS (SELECT FROM notice n WHERE n.kind = 'moisture' AND n.stream = s.key AND n.item = ''
           AND n.due_at = s.clock_ends_at AND n.settled_at IS NULL
           AND n.level = CASE WHEN s.clock_ends_at <= $1 THEN 'due' ELSE 'ahead' END)
       ORDER BY key LIMIT $3`,
      [now, after, limit],
    );
    return rows.map(({ key }) => key);
  }

  async moveClock(key: StreamKey, headSeq: number, clock: FloorLifeEnd | null): Promise<void> {
    await this.pool.query(
      `UPDATE subject SET clock_warns_at = $3, clock_ends_at = $4
       WHERE key = $1 AND head_seq = $2
         AND (clock_warns_at, clock_ends_at) IS DISTINCT FROM ($3::timestamptz, $4::timestamptz)`,
      [key, headSeq, clock?.warnsAt ?? null, clock?.endsAt ?? null],
    );
  }

  async holdsOverdue({ now, after, limit }: DuePage): Promise<readonly HoldRecord[]> {
    const { rows } = await this.pool.query<HoldRow>(
      `SELECT ${HOLD_COLUMNS} FROM hold h
       WHERE state = 'open' AND due_at <= $1 AND ($2::uuid IS NULL OR id > $2)
         AND NOT EXISTS (SELECT FROM notice n WHERE n.kind = 'hold-overdue' AND n.stream = h.stream
           AND n.item = h.id::text AND n.due_at = date_trunc('milliseconds', h.due_at) AND n.level = 'due'
           AND n.settled_at IS NULL)
       ORDER BY id LIMIT $3`,
      [now, after, limit],
    );
    return rows.map(toHold);
  }
}

function toNotice(row: NoticeRow): Notice {
  const { id, kind, level, subject, item, due_at: dueAt, raised_at: raisedAt, detail, remedy, acknowledgement } = row;
  const settledAt = row.settled_at?.toISOString() ?? null;
  return {
    ...{ id, kind, level, subject, item, dueAt: dueAt.toISOString(), raisedAt: raisedAt.toISOString() },
    ...{ detail, remedy, acknowledgement, settledAt },
  };
}
