import pg from 'pg';
import { ArchiveChunk, ArchivePart, ArchiveRecord, ArchiveUnit } from '../ledger/archives/archive-record.js';
import {
  ArchiveBounds,
  ArchiveClaim,
  ArchiveEnd,
  ArchiveFilter,
  ArchiveStep,
  ArchiveStore,
} from '../ledger/ports/archive-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { ARCHIVE_COLUMNS, queryArchives, queryParts, queryUnits } from './archive-row.js';
import { enterEnd, enterStep, keepChunks } from './archive-writes.js';
import { fromTimedCursor, isUuid, toCursor } from './cursor.js';
import { inTransaction } from './in-transaction.js';

const ENDED = `state IN ('done', 'failed', 'cancelled')`;
/** Archives whose bytes nobody will ask for. */
const SCRAP = `(removed OR (NOT cleared AND state IN ('failed', 'cancelled')))`;

/** Archives in Postgres: any worker can go on with one, and any api hand it out. */
export class PgArchiveStore implements ArchiveStore {
  constructor(private readonly pool: pg.Pool) {}

  async add(
    record: ArchiveRecord,
    units: readonly Pick<ArchiveUnit, 'assembly' | 'serial' | 'path'>[],
    bounds: ArchiveBounds,
  ): Promise<'added' | keyof ArchiveBounds> {
    return inTransaction(this.pool, async (client) => {
      // Whoever asks at the same time waits, and is counted with.
      await client.query(`SELECT pg_advisory_xact_lock(hashtext('heatbook archives'))`);
      const excess = await excessOf(client, record, bounds);
      if (excess !== undefined) return excess;
      await insertArchive(client, record);
      await client.query(
        `INSERT INTO archive_item (archive, place, assembly, serial, path)
         SELECT $1, n - 1, assembly, serial, path
         FROM unnest($2::text[], $3::text[], $4::text[]) WITH ORDINALITY AS u (assembly, serial, path, n)`,
        [
          record.id,
          units.map(({ assembly }) => assembly),
          units.map(({ serial }) => serial),
          units.map(({ path }) => path),
        ],
      );
      return 'added';
    });
  }

  async get(id: string): Promise<ArchiveRecord | undefined> {
    if (!isUuid(id)) return undefined;
    const text = `SELECT ${ARCHIVE_COLUMNS} FROM archive WHERE id = $1 AND NOT removed`;
    return (await queryArchives(this.pool, text, [id]))[0];
  }

  async list(filter: ArchiveFilter, { limit, cursor }: PageRequest): Promise<Page<ArchiveRecord>> {
    const [at, id] = fromTimedCursor(cursor) ?? [];
    const found = await queryArchives(
      this.pool,
      `SELECT ${ARCHIVE_COLUMNS} FROM archive
       WHERE NOT removed AND ($1::timestamptz IS NULL OR (requested_at, id) < ($1, $2::uuid))
         AND ($4::text IS NULL OR (owner = $4 AND owner_via = $5 AND customer IS NOT DISTINCT FROM $6::text))
       ORDER BY requested_at DESC, id DESC LIMIT $3`,
      [
        ...[at ?? null, id ?? null, limit + 1],
        ...[filter?.name ?? null, filter?.via ?? null, filter?.customer ?? null],
      ],
    );
    const items = found.slice(0, limit);
    const last = items.at(-1);
    return { items, next: found.length > limit && last ? toCursor([last.requestedAt, last.id]) : null };
  }

  units(id: string, from: number, limit: number, missing?: 'missing'): Promise<readonly ArchiveUnit[]> {
    return queryUnits(
      this.pool,
      `WHERE archive = $1 AND place >= $2 AND ($3::text IS NULL OR outcome = $3) ORDER BY place LIMIT $4`,
      [id, from, missing ?? null, limit],
    );
  }

  async claim(
    at: string,
    { triedBefore, seenBefore }: { readonly triedBefore: string; readonly seenBefore: string },
  ): Promise<{ readonly claim: ArchiveClaim; readonly record: ArchiveRecord } | undefined> {
    return inTransaction(this.pool, async (client) => {
      const [record] = await queryArchives(
        client,
        `UPDATE archive SET state = 'running', claim = claim + 1, attempts = attempts + 1, seen_at = $1
         WHERE id = (SELECT id FROM archive
           WHERE NOT removed AND ((state = 'waiting' AND (attempts = 0 OR seen_at < $2))
             OR (state = 'running' AND seen_at < $3))
           ORDER BY requested_at, id LIMIT 1 FOR UPDATE SKIP LOCKED)
         RETURNING ${ARCHIVE_COLUMNS}`,
        [at, triedBefore, seenBefore],
      );
      if (record === undefined) return undefined;
      const { id, parts } = record;
      const { rows } = await client.query<{ claim: number }>(`SELECT claim FROM archive WHERE id = $1`, [id]);
      await client.query(`DELETE FROM archive_chunk WHERE archive = $1 AND part >= $2`, [id, parts]);
      return { record, claim: { id, number: rows[0]?.claim ?? 0 } };
    });
  }

  async seen({ id, number }: ArchiveClaim, at: string): Promise<boolean> {
    const { rowCount } = await this.pool.query(
      `UPDATE archive SET seen_at = $3 WHERE id = $1 AND claim = $2 AND state = 'running'`,
      [id, number, at],
    );
    return rowCount === 1;
  }

  async keep(claim: ArchiveClaim, chunks: readonly ArchiveChunk[], at: string): Promise<void> {
    await keepChunks(this.pool, claim, chunks, at);
  }

  async enter(claim: ArchiveClaim, step: ArchiveStep, at: string): Promise<void> {
    await inTransaction(this.pool, (client) => enterStep(client, claim, step, at));
  }

  async finish(claim: ArchiveClaim, end: ArchiveEnd, at: string): Promise<void> {
    await inTransaction(this.pool, (client) => enterEnd(client, claim, end, at));
  }

  async release({ id, number }: ArchiveClaim): Promise<void> {
    await this.pool.query(
      `UPDATE archive SET state = 'waiting', attempts = greatest(attempts - 1, 0)
       WHERE id = $1 AND claim = $2 AND state = 'running'`,
      [id, number],
    );
  }

  async failed({ id, number }: ArchiveClaim, why: string, at: string, expiresAt?: string): Promise<void> {
    await this.pool.query(
      `UPDATE archive SET state = CASE WHEN $5::timestamptz IS NULL THEN 'waiting' ELSE 'failed' END, failure = $3,
         seen_at = $4, expires_at = $5, finished_at = CASE WHEN $5::timestamptz IS NOT NULL THEN $4::timestamptz END
       WHERE id = $1 AND claim = $2 AND state = 'running'`,
      [id, number, why, at, expiresAt ?? null],
    );
  }

  async cancel(id: string, at: string, expiresAt: string): Promise<'cancelled' | 'over' | 'not-found'> {
    if (!isUuid(id)) return 'not-found';
    const { rowCount } = await this.pool.query(
      `UPDATE archive SET state = 'cancelled', finished_at = $2, expires_at = $3
       WHERE id = $1 AND NOT removed AND NOT ${ENDED}`,
      [id, at, expiresAt],
    );
    if (rowCount === 1) return 'cancelled';
    return (await this.get(id)) === undefined ? 'not-found' : 'over';
  }

  async remove(id: string): Promise<void> {
    if (!isUuid(id)) return;
    await this.pool.query(
      `UPDATE archive SET removed = true, state = CASE WHEN ${ENDED} THEN state ELSE 'cancelled' END WHERE id = $1`,
      [id],
    );
  }

  async removeExpired(at: string): Promise<number> {
    const { rowCount } = await this.pool.query(
      `UPDATE archive SET removed = true WHERE NOT removed AND expires_at <= $1`,
      [at],
    );
    return rowCount ?? 0;
  }

  async clear(mostChunks: number): Promise<number> {
    for (;;) {
      const gone = await inTransaction(this.pool, (client) => clearOne(client, mostChunks));
      if (gone === undefined) return 0;
      if (gone > 0) return gone;
    }
  }

  parts(id: string, from: number, limit: number): Promise<readonly ArchivePart[]> {
    const rest = `WHERE archive = $1 AND number >= $2 ORDER BY number LIMIT $3`;
    return queryParts(this.pool, rest, [id, from, limit]);
  }

  async partAt(id: string, offset: number): Promise<ArchivePart | undefined> {
    const rest = `WHERE archive = $1 AND header_at <= $2 ORDER BY header_at DESC LIMIT 1`;
    return (await queryParts(this.pool, rest, [id, offset]))[0];
  }

  async partFolded(id: string, folded: string): Promise<ArchivePart | undefined> {
    return (await queryParts(this.pool, `WHERE archive = $1 AND folded = $2`, [id, folded]))[0];
  }

  async chunk(id: string, part: number, number: number): Promise<Uint8Array | undefined> {
    const { rows } = await this.pool.query<{ bytes: Buffer }>(
      `SELECT bytes FROM archive_chunk WHERE archive = $1 AND part = $2 AND number = $3`,
      [id, part, number],
    );
    return rows[0]?.bytes;
  }
}

/** What there would be too much of. */
async function excessOf(
  client: pg.ClientBase,
  { owner: { name, via } }: ArchiveRecord,
  bounds: ArchiveBounds,
): Promise<keyof ArchiveBounds | undefined> {
  const { rows } = await client.query<Record<keyof ArchiveBounds, number>>(
    `SELECT count(*) FILTER (WHERE own AND NOT ${ENDED})::integer AS unfinished,
       count(*) FILTER (WHERE own)::integer AS kept,
       coalesce(sum(bytes) FILTER (WHERE state NOT IN ('failed', 'cancelled')), 0)::float8 AS bytes
     FROM (SELECT *, owner = $1 AND owner_via = $2 AS own FROM archive WHERE NOT removed) archive`,
    [name, via],
  );
  const [have] = rows;
  if (have === undefined) throw new Error('the archives were not counted');
  return (['unfinished', 'kept', 'bytes'] as const).find((what) => have[what] >= bounds[what]);
}

async function insertArchive(client: pg.ClientBase, record: ArchiveRecord): Promise<void> {
  const { id, owner, formats, since, state, wanted, requestedAt, seenAt } = record;
  await client.query(
    `INSERT INTO archive (id, owner, owner_via, customer, formats, since, state, wanted, done, missing, entries, parts,
       content_bytes, bytes, attempts, requested_at, seen_at)
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8, 0, 0, 0, 0, 0, 0, 0, $9, $10)`,
    [
      ...[id, owner.name, owner.via, owner.customer, JSON.stringify(formats), JSON.stringify(since), state, wanted],
      ...[requestedAt, seenAt],
    ],
  );
}

/** @returns chunks that were removed; undefined where no archive is scrap */
async function clearOne(client: pg.ClientBase, mostChunks: number): Promise<number | undefined> {
  const { rows } = await client.query<{ id: string; removed: boolean }>(
    `SELECT id, removed FROM archive WHERE ${SCRAP} ORDER BY requested_at, id LIMIT 1 FOR UPDATE SKIP LOCKED`,
  );
  const [scrap] = rows;
  if (scrap === undefined) return undefined;
  const { rowCount } = await client.query(
    `DELETE FROM archive_chunk WHERE archive = $1 AND (part, number) IN
       (SELECT part, number FROM archive_chunk WHERE archive = $1 ORDER BY part, number LIMIT $2)`,
    [scrap.id, mostChunks],
  );
  const gone = rowCount ?? 0;
  if (gone === mostChunks) return gone;
  await client.query(`DELETE FROM archive_part WHERE archive = $1`, [scrap.id]);
  if (scrap.removed) {
    await client.query(`DELETE FROM archive_item WHERE archive = $1`, [scrap.id]);
    await client.query(`DELETE FROM archive WHERE id = $1`, [scrap.id]);
  } else await client.query(`UPDATE archive SET cleared = true WHERE id = $1`, [scrap.id]);
  return gone;
}
