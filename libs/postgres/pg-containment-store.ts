import pg from 'pg';
import { StreamKey } from '../domain/subject/subject.js';
import {
  Contained,
  ContainedMark,
  ContainmentRecord,
  ContainmentRound,
} from '../ledger/containment/containment-record.js';
import { ContainmentProgress, ContainmentStore } from '../ledger/ports/containment-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { fromCursor, fromTimedCursor, isUuid, toCursor } from './cursor.js';
import { CONTAINMENT_COLUMNS, queryContainments } from './pg-containments.js';

const MOST_ABANDONED = 100;
const UNDER_WAY = `state IN ('finding', 'holding')`;

/** Containments in Postgres. */
export class PgContainmentStore implements ContainmentStore {
  constructor(private readonly pool: pg.Pool) {}

  async add(record: ContainmentRecord): Promise<void> {
    const { id, cause, from, to, holdCause, causeHolds, state, rounds, found, held } = record;
    const { attempts, failure, requestedAt, seenAt, finishedAt } = record;
    await this.pool.query(
      `INSERT INTO containment (${CONTAINMENT_COLUMNS})
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`,
      [
        ...[id, JSON.stringify(cause), from, to, holdCause, JSON.stringify(causeHolds), state, JSON.stringify(rounds)],
        ...[found, held, attempts, failure, requestedAt, seenAt, finishedAt],
      ],
    );
  }

  async get(id: string): Promise<ContainmentRecord | undefined> {
    if (!isUuid(id)) return undefined;
    return (await this.ask(`SELECT ${CONTAINMENT_COLUMNS} FROM containment WHERE id = $1`, [id]))[0];
  }

  async list({ limit, cursor }: PageRequest): Promise<Page<ContainmentRecord>> {
    const [at, id] = fromTimedCursor(cursor) ?? [];
    const found = await this.ask(
      `SELECT ${CONTAINMENT_COLUMNS} FROM containment
       WHERE $1::timestamptz IS NULL OR (requested_at, id) < ($1, $2::uuid)
       ORDER BY requested_at DESC, id DESC LIMIT $3`,
      [at ?? null, id ?? null, limit + 1],
    );
    return pageOf(found, limit, (record) => [record.requestedAt, record.id]);
  }

  async again(id: string, round: ContainmentRound, at: string): Promise<ContainmentRecord | 'not-found' | 'busy'> {
    const known = await this.get(id);
    if (known === undefined) return 'not-found';
    // Guarded by the number of rounds, so that of two that are added at once one is told to wait.
    const [begun] = await this.ask(
      `UPDATE containment SET state = 'finding', rounds = $2, found = NULL, held = 0, attempts = 0, failure = NULL,
         seen_at = $3, finished_at = NULL
       WHERE id = $1 AND NOT ${UNDER_WAY} AND json_array_length(rounds) = $4 RETURNING ${CONTAINMENT_COLUMNS}`,
      [id, JSON.stringify([...known.rounds, round]), at, known.rounds.length],
    );
    return begun ?? 'busy';
  }

  async begin(id: string, at: string): Promise<ContainmentRecord | undefined> {
    if (!isUuid(id)) return undefined;
    const [begun] = await this.ask(
      `UPDATE containment SET state = 'finding', attempts = attempts + 1, seen_at = $2
       WHERE id = $1 AND ${UNDER_WAY} RETURNING ${CONTAINMENT_COLUMNS}`,
      [id, at],
    );
    return begun;
  }

  async progress(id: string, { state, found, held }: ContainmentProgress, at: string): Promise<void> {
    await this.pool.query(
      `UPDATE containment SET state = $2, found = $3, held = $4, seen_at = $5 WHERE id = $1 AND ${UNDER_WAY}`,
      [id, state, found, held, at],
    );
  }

  async failed(id: string, why: string, last: boolean, at: string): Promise<void> {
    await this.pool.query(
      `UPDATE containment SET state = CASE WHEN $3 THEN 'failed' ELSE state END, failure = $2, held = 0, seen_at = $4,
         finished_at = CASE WHEN $3 THEN $4::timestamptz END
       WHERE id = $1 AND ${UNDER_WAY}`,
      [id, why, last, at],
    );
  }

  async abandoned(notBegunBefore: string, notSeenBefore: string): Promise<readonly string[]> {
    const { rows } = await this.pool.query<{ id: string }>(
      `SELECT id FROM containment
       WHERE ${UNDER_WAY} AND seen_at < CASE WHEN attempts = 0 THEN $1::timestamptz ELSE $2::timestamptz END
       ORDER BY seen_at LIMIT $3`,
      [notBegunBefore, notSeenBefore, MOST_ABANDONED],
    );
    return rows.map(({ id }) => id);
  }

  async contained(id: string, { limit, cursor }: PageRequest): Promise<Page<Contained>> {
    const [after] = fromCursor(cursor, 1) ?? [];
    if (!isUuid(id)) return { items: [], next: null };
    const { rows } = await this.pool.query<{ body: Contained }>(
      `SELECT body FROM containment_subject WHERE containment = $1 AND ($2::text IS NULL OR key > $2)
       ORDER BY key LIMIT $3`,
      [id, after ?? null, limit + 1],
    );
    return pageOf(
      rows.map(({ body }) => body),
      limit,
      ({ key }) => [key],
    );
  }

  async marks(id: string): Promise<ReadonlyMap<StreamKey, ContainedMark>> {
    if (!isUuid(id)) return new Map();
    const { rows } = await this.pool.query<{ key: string; touches: number; open: boolean }>(
      `SELECT s.key, s.touches, h.state = 'open' AS open FROM containment_subject s JOIN hold h ON h.id = s.hold
       WHERE s.containment = $1`,
      [id],
    );
    return new Map(rows.map(({ key, touches, open }) => [key, { touches, open }]));
  }

  private ask(text: string, values: unknown[]): Promise<readonly ContainmentRecord[]> {
    return queryContainments(this.pool, text, values);
  }
}

/** One more than asked for was read, to know whether there is a next page. */
function pageOf<T>(found: readonly T[], limit: number, place: (item: T) => string[]): Page<T> {
  const items = found.slice(0, limit);
  const last = items.at(-1);
  return { items, next: found.length > limit && last !== undefined ? toCursor(place(last)) : null };
}
