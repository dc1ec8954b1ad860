import { foldedPath } from '../ledger/archives/archive-paths.js';
import { ArchiveChunk, ArchivePart } from '../ledger/archives/archive-record.js';
import { ArchiveClaim, ArchiveEnd, ArchiveLost, ArchiveStep } from '../ledger/ports/archive-store.js';
import { Queries } from './queries.js';

const GOOD = `id = $1 AND claim = $2 AND state = 'running'`;

/**
 * Keeps chunks ahead of their part. The same statement says that the archive is worked on: whoever takes the claim waits
 * for it, or is not waited for.
 * @throws ArchiveLost
 */
export async function keepChunks(
  queries: Queries,
  claim: ArchiveClaim,
  chunks: readonly ArchiveChunk[],
  at: string,
): Promise<void> {
  const { rowCount } = await queries.query(
    `WITH mine AS (UPDATE archive SET seen_at = $3 WHERE ${GOOD} RETURNING id)
     INSERT INTO archive_chunk (archive, part, number, bytes)
     SELECT mine.id, c.part, c.number, c.bytes FROM mine, (VALUES ${valuesOf(chunks, 4)}) c (part, number, bytes)`,
    [claim.id, claim.number, at, ...chunkValues(chunks)],
  );
  if (rowCount !== chunks.length) throw lost(claim);
}

/** @throws ArchiveLost */
export async function enterStep(queries: Queries, claim: ArchiveClaim, step: ArchiveStep, at: string): Promise<void> {
  const { place, outcome, count, headHash } = step.unit;
  const { rowCount } = await queries.query(
    `UPDATE archive SET done = done + 1, missing = missing + $4, entries = entries + $5, parts = parts + $6,
       content_bytes = content_bytes + $7, bytes = $8, attempts = 0, failure = NULL, seen_at = $3
     WHERE ${GOOD} AND done = $9`,
    [
      ...[claim.id, claim.number, at, outcome === 'missing' ? 1 : 0, count ?? 0, step.parts.length],
      ...[contentBytes(step.parts), step.bytes, place],
    ],
  );
  if (rowCount !== 1) throw lost(claim);
  await queries.query(
    `UPDATE archive_item SET outcome = $3, count = $4, head_hash = $5 WHERE archive = $1 AND place = $2`,
    [claim.id, place, outcome, count, headHash],
  );
  await insertParts(queries, claim.id, step);
}

/** @throws ArchiveLost */
export async function enterEnd(queries: Queries, claim: ArchiveClaim, end: ArchiveEnd, at: string): Promise<void> {
  const { rowCount } = await queries.query(
    `UPDATE archive SET state = 'done', parts = parts + $4, content_bytes = content_bytes + $5, bytes = $6,
       manifest_hash = $7, failure = NULL, seen_at = $3, finished_at = $3, expires_at = $8
     WHERE ${GOOD} AND done = wanted`,
    [
      ...[claim.id, claim.number, at, end.parts.length, contentBytes(end.parts), end.bytes],
      ...[end.manifestHash, end.expiresAt],
    ],
  );
  if (rowCount !== 1) throw lost(claim);
  await insertParts(queries, claim.id, end);
}

async function insertParts(
  queries: Queries,
  id: string,
  { parts, chunks }: Pick<ArchiveStep, 'parts' | 'chunks'>,
): Promise<void> {
  if (parts.length > 0) {
    const rows = parts.map((part) => ({ ...part, folded: foldedPath(part.name) }));
    await queries.query(
      `INSERT INTO archive_part (archive, number, name, folded, crc32, bytes, packed_bytes, header_at, sha256)
       SELECT $1, number, name, folded, crc32, bytes, "packedBytes", "offset", sha256
       FROM jsonb_to_recordset($2) AS p (number integer, name text, folded text, crc32 bigint, bytes bigint,
         "packedBytes" bigint, "offset" bigint, sha256 text)`,
      [id, JSON.stringify(rows)],
    );
  }
  if (chunks.length > 0) {
    await queries.query(
      `INSERT INTO archive_chunk (archive, part, number, bytes)
       SELECT $1, c.part, c.number, c.bytes FROM (VALUES ${valuesOf(chunks, 2)}) c (part, number, bytes)`,
      [id, ...chunkValues(chunks)],
    );
  }
}

function contentBytes(parts: readonly ArchivePart[]): number {
  return parts.reduce((sum, { bytes }) => sum + bytes, 0);
}

/** Placeholders of chunks, from `$first` on: bytes travel as they are only as parameters of their own. */
function valuesOf(chunks: readonly ArchiveChunk[], first: number): string {
  const place = (n: number): string => `$${String(first + n)}`;
  return chunks
    .map((_, n) => `(${place(3 * n)}::integer, ${place(3 * n + 1)}::integer, ${place(3 * n + 2)}::bytea)`)
    .join(', ');
}

function chunkValues(chunks: readonly ArchiveChunk[]): unknown[] {
  return chunks.flatMap(({ part, number, bytes }) => [part, number, bytes]);
}

function lost({ id }: ArchiveClaim): ArchiveLost {
  return new ArchiveLost(`archive ${id} was cancelled, or somebody else has it`);
}
