import { ArchivePart, ArchiveRecord, ArchiveUnit } from '../ledger/archives/archive-record.js';
import { Queries } from './queries.js';

/** An archive as its table keeps it; `json` columns arrive parsed, and numbers of bytes as doubles. */
interface ArchiveRow {
  readonly id: string;
  readonly owner: string;
  readonly owner_via: ArchiveRecord['owner']['via'];
  readonly customer: string | null;
  readonly formats: readonly string[];
  readonly since: readonly number[];
  readonly state: ArchiveRecord['state'];
  readonly wanted: number;
  readonly done: number;
  readonly missing: number;
  readonly entries: number;
  readonly parts: number;
  readonly content_bytes: number;
  readonly bytes: number;
  readonly manifest_hash: string | null;
  readonly failure: string | null;
  readonly attempts: number;
  readonly requested_at: Date;
  readonly seen_at: Date;
  readonly finished_at: Date | null;
  readonly expires_at: Date | null;
}

interface PartRow {
  readonly number: number;
  readonly name: string;
  readonly crc32: number;
  readonly bytes: number;
  readonly packed_bytes: number;
  readonly header_at: number;
  readonly sha256: string;
}

export const ARCHIVE_COLUMNS = `id, owner, owner_via, customer, formats, since, state, wanted, done, missing,
  entries::float8 AS entries, parts, content_bytes::float8 AS content_bytes, bytes::float8 AS bytes, manifest_hash, failure,
  attempts, requested_at, seen_at, finished_at, expires_at`;

const PART_COLUMNS = `number, name, crc32::float8 AS crc32, bytes::float8 AS bytes, packed_bytes::float8 AS packed_bytes,
  header_at::float8 AS header_at, sha256`;

/** Asks for archives, in columns of ARCHIVE_COLUMNS. */
export async function queryArchives(
  queries: Queries,
  text: string,
  values: unknown[],
): Promise<readonly ArchiveRecord[]> {
  const { rows } = await queries.query<ArchiveRow>(text, values);
  return rows.map(toArchive);
}

function toArchive(row: ArchiveRow): ArchiveRecord {
  const { id, owner, customer, formats, since, state, wanted, done, missing, entries, parts, bytes } = row;
  return {
    ...{ id, owner: { name: owner, via: row.owner_via, customer }, formats, since, state },
    ...{ wanted, done, missing, entries, parts, contentBytes: row.content_bytes, bytes },
    ...{ manifestHash: row.manifest_hash, failure: row.failure, attempts: row.attempts },
    requestedAt: row.requested_at.toISOString(),
    seenAt: row.seen_at.toISOString(),
    finishedAt: row.finished_at?.toISOString() ?? null,
    expiresAt: row.expires_at?.toISOString() ?? null,
  };
}

/** Parts of archives, where `rest` says which. */
export async function queryParts(queries: Queries, rest: string, values: unknown[]): Promise<readonly ArchivePart[]> {
  const { rows } = await queries.query<PartRow>(`SELECT ${PART_COLUMNS} FROM archive_part ${rest}`, values);
  return rows.map(({ number, name, crc32, bytes, packed_bytes: packedBytes, header_at: offset, sha256 }) => {
    return { number, name, crc32, bytes, packedBytes, offset, sha256 };
  });
}

/** Units of archives, where `rest` says which. */
export async function queryUnits(queries: Queries, rest: string, values: unknown[]): Promise<readonly ArchiveUnit[]> {
  const { rows } = await queries.query<ArchiveUnit>(
    `SELECT place, assembly, serial, path, outcome, count, head_hash AS "headHash" FROM archive_item ${rest}`,
    values,
  );
  return rows;
}
