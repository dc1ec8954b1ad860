import { StreamKey } from '../domain/subject/subject.js';
import { SubtreePlace } from '../ledger/log/merkle/subtrees.js';
import { LogLeaf, LogReads, StoredCheckpoint } from '../ledger/ports/log-store.js';
import { rowsOf } from './bulk-rows.js';
import { Queries } from './queries.js';

export interface LeafRow {
  readonly index: string;
  readonly subject: StreamKey;
  readonly seq: number;
  readonly hash: string;
}

export const LEAF_COLUMNS = `index, subject, seq, encode(hash, 'hex') AS hash`;

/** Reads of the log on Postgres: within a transaction, or on a pool. */
export class PgLogReads implements LogReads {
  constructor(protected readonly queries: Queries) {}

  async size(): Promise<number> {
    const { rows } = await this.queries.query<{ size: string }>(
      `SELECT coalesce(max(index) + 1, 0) AS size FROM log_leaf`,
    );
    return Number(rows[0]?.size ?? 0);
  }

  async leaves(from: number, limit: number): Promise<readonly LogLeaf[]> {
    const { rows } = await this.queries.query<LeafRow>(
      `SELECT ${LEAF_COLUMNS} FROM log_leaf WHERE index >= $1 ORDER BY index LIMIT $2`,
      [from, limit],
    );
    return rows.map(toLeaf);
  }

  async leavesAt(indexes: readonly number[]): Promise<readonly LogLeaf[]> {
    if (indexes.length === 0) return [];
    const { rows } = await this.queries.query<LeafRow>(
      `SELECT ${LEAF_COLUMNS} FROM log_leaf WHERE index = ANY($1::bigint[]) ORDER BY index`,
      [indexes],
    );
    return rows.map(toLeaf);
  }

  async nodes(places: readonly SubtreePlace[]): Promise<readonly Uint8Array[]> {
    if (places.length === 0) return [];
    const { rows } = await this.queries.query<{ level: number; index: string; hash: Buffer }>(
      `SELECT p.level, p.index, n.hash FROM json_to_recordset($1::json) AS p(level smallint, index bigint),
       LATERAL (SELECT hash FROM log_node WHERE log_node.level = p.level AND log_node.index = p.index OFFSET 0) n`,
      [rowsOf(places)],
    );
    const found = new Map(rows.map(({ level, index, hash }) => [`${String(level)} ${index}`, Uint8Array.from(hash)]));
    return places.map(({ level, index }) => {
      const hash = found.get(`${String(level)} ${String(index)}`);
      if (hash === undefined)
        throw new Error(`the log has no hash of subtree ${String(index)} at level ${String(level)}`);
      return hash;
    });
  }

  async checkpoint(): Promise<StoredCheckpoint | undefined> {
    const { rows } = await this.queries.query<{ size: string; root: Buffer; note: string; at: Date }>(
      `SELECT size, root, note, at FROM log_checkpoint ORDER BY number DESC LIMIT 1`,
    );
    return rows.map(({ size, root, note, at }) => ({
      size: Number(size),
      root: Uint8Array.from(root),
      note,
      at: at.toISOString(),
    }))[0];
  }
}

export function toLeaf({ index, subject, seq, hash }: LeafRow): LogLeaf {
  return { index: Number(index), subject, seq, hash };
}
