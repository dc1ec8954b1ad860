import { StreamKey } from '../domain/subject/subject.js';
import { CensusGroup, LedgerPlace } from '../ledger/log/log-evidence.js';
import { LogCheckReads, LogLeaf } from '../ledger/ports/log-store.js';
import { LEAF_COLUMNS, LeafRow, PgLogReads, toLeaf } from './pg-log-reads.js';

/**
 * What the check of the log reads, on Postgres. Where leaves meet entries each is looked up by its key (OFFSET 0 keeps
 * the planner from anything else): these tables are the largest there are, and few rows of them are wanted at a time.
 */
export class PgLogCheckReads extends PgLogReads implements LogCheckReads {
  async ledgersAt(
    size: number,
    { after, limit, prefix = '' }: { after: StreamKey | null; limit: number; prefix?: string },
  ): Promise<readonly LedgerPlace[]> {
    // From ledger to ledger by the index, so that a page costs its ledgers and not the entries that they have.
    const { rows } = await this.queries.query<LedgerPlace>(
      `WITH RECURSIVE ledger AS (
         SELECT (SELECT min(subject) FROM log_leaf WHERE subject > $2 AND subject >= $4) AS subject
         UNION ALL
         SELECT (SELECT min(l.subject) FROM log_leaf l WHERE l.subject > ledger.subject) FROM ledger
         WHERE ledger.subject ^@ $4
       )
       SELECT last.subject, last.seq, last.hash FROM ledger,
       LATERAL (SELECT subject, seq, encode(hash, 'hex') AS hash FROM log_leaf
         WHERE log_leaf.subject = ledger.subject AND index < $1 ORDER BY seq DESC LIMIT 1) last
       WHERE ledger.subject ^@ $4 LIMIT $3`,
      [size, after ?? '', limit, prefix],
    );
    return rows;
  }

  async besideLedgers(
    from: number,
    limit: number,
  ): Promise<readonly (LogLeaf & { readonly ledgerHash: string | null })[]> {
    const { rows } = await this.queries.query<LeafRow & { ledger_hash: string | null }>(
      `SELECT l.*, e.hash AS ledger_hash
       FROM (SELECT ${LEAF_COLUMNS} FROM log_leaf WHERE index >= $1 ORDER BY index LIMIT $2) l
       LEFT JOIN LATERAL (
         SELECT CASE WHEN encode(sha256(convert_to(bytes, 'UTF8')), 'hex') = hash THEN hash ELSE '' END AS hash
         FROM ledger_entry
         WHERE ledger_entry.subject = l.subject AND ledger_entry.seq = l.seq OFFSET 0) e ON true
       ORDER BY l.index`,
      [from, limit],
    );
    return rows.map((row) => ({ ...toLeaf(row), ledgerHash: row.ledger_hash }));
  }

  async outsideLog(limit: number): Promise<readonly LedgerPlace[]> {
    // In one statement, hence one snapshot: an entry moves from the inbox to the log in one commit.
    const { rows } = await this.queries.query<LedgerPlace>(
      `WITH waiting AS (
         SELECT w.subject COLLATE "C" AS subject, w.seq FROM log_inbox, unnest(subjects, seqs) AS w(subject, seq))
       SELECT e.subject, e.seq, e.hash FROM ledger_entry e
       WHERE NOT EXISTS (SELECT 1 FROM log_leaf l WHERE l.subject = e.subject COLLATE "C" AND l.seq = e.seq)
         AND NOT EXISTS (SELECT 1 FROM waiting w WHERE w.subject = e.subject COLLATE "C" AND w.seq = e.seq)
       ORDER BY e.subject COLLATE "C", e.seq LIMIT $1`,
      [limit],
    );
    return rows;
  }

  async censusGroups(size: number): Promise<readonly CensusGroup[]> {
    const { rows } = await this.queries.query<{ name: string; ledgers: number; entries: string; root: string }>(
      `SELECT name, ledgers, entries, encode(root, 'hex') AS root FROM log_census_group WHERE size = $1 ORDER BY name`,
      [size],
    );
    return rows.map(({ name, ledgers, entries, root }) => ({ group: name, ledgers, entries: Number(entries), root }));
  }
}
