import pg from 'pg';
import { StreamKey } from '../domain/subject/subject.js';
import { CensusGroup, LedgerPlace } from '../ledger/log/log-evidence.js';
import { LedgerReach } from '../ledger/log/log-reader.js';
import { LogFinding, LogLeaf, LogStore, LogTransaction } from '../ledger/ports/log-store.js';
import { inTransaction } from './in-transaction.js';
import { rowsOf } from './bulk-rows.js';
import { LEAF_COLUMNS, LeafRow, PgLogReads, toLeaf } from './pg-log-reads.js';
import { PgLogTransaction } from './pg-log-transaction.js';

/** Namespace of the advisory lock that the sequencer works under. */
const LOG_LOCK = 7_201_003;
const ALONE = `BEGIN; SELECT pg_try_advisory_xact_lock(${String(LOG_LOCK)}) AS got`;

/**
 * The site-wide log on Postgres. Where leaves meet entries each is looked up by its key (OFFSET 0 keeps the planner from
 * anything else): these tables are the largest there are, and few rows of them are wanted at a time. The inbox
 * is filled by a trigger on the ledger, in the commit of the entries.
 */
export class PgLogStore extends PgLogReads implements LogStore {
  constructor(private readonly pool: pg.Pool) {
    super(pool);
  }

  async origin(proposed: string): Promise<string> {
    await this.pool.query(`INSERT INTO log_identity (origin) VALUES ($1) ON CONFLICT DO NOTHING`, [proposed]);
    const { rows } = await this.pool.query<{ origin: string }>(`SELECT origin FROM log_identity`);
    return rows[0]?.origin ?? proposed;
  }

  alone<T>(work: (tx: LogTransaction) => Promise<T>): Promise<T | 'busy'> {
    return inTransaction<T | 'busy'>(
      this.pool,
      async (client, begun) =>
        (await begun)?.rows.some(({ got }: { got: boolean }) => got) === true
          ? work(new PgLogTransaction(client))
          : 'busy',
      { begin: ALONE },
    );
  }

  async waitingCount(): Promise<number> {
    const { rows } = await this.pool.query<{ waiting: string }>(`SELECT count(*) AS waiting FROM log_inbox`);
    return Number(rows[0]?.waiting ?? 0);
  }

  async newest(ledgers: readonly LedgerReach[], size: number): Promise<readonly LogLeaf[]> {
    if (ledgers.length === 0) return [];
    const { rows } = await this.pool.query<LeafRow>(
      `SELECT l.* FROM json_to_recordset($1::json) AS asked(subject text COLLATE "C", seq integer),
       LATERAL (SELECT ${LEAF_COLUMNS} FROM log_leaf WHERE log_leaf.subject = asked.subject AND log_leaf.seq <= asked.seq
         AND index < $2 ORDER BY log_leaf.seq DESC LIMIT 1) l`,
      [rowsOf(ledgers), size],
    );
    return rows.map(toLeaf);
  }

  async ledgersAt(
    size: number,
    { after, limit, prefix = '' }: { after: StreamKey | null; limit: number; prefix?: string },
  ): Promise<readonly LedgerPlace[]> {
    // From ledger to ledger by the index, so that a page costs its ledgers and not the entries that they have.
    const { rows } = await this.pool.query<LedgerPlace>(
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

  async ledgerLeaves(subject: StreamKey, afterSeq: number, limit: number): Promise<readonly LogLeaf[]> {
    const { rows } = await this.pool.query<LeafRow>(
      `SELECT ${LEAF_COLUMNS} FROM log_leaf WHERE subject = $1 AND seq > $2 ORDER BY seq LIMIT $3`,
      [subject, afterSeq, limit],
    );
    return rows.map(toLeaf);
  }

  async sizeBefore(time: string): Promise<number> {
    const { rows } = await this.pool.query<{ size: string }>(
      `SELECT l.index + 1 AS size FROM log_leaf l, LATERAL (SELECT FROM ledger_entry e
         WHERE e.subject = l.subject AND e.seq = l.seq AND e.recorded_at < $1 OFFSET 0) before
       ORDER BY l.index DESC LIMIT 1`,
      [time],
    );
    return Number(rows[0]?.size ?? 0);
  }

  async nextRecorded(from: number, except: StreamKey): Promise<string | undefined> {
    const { rows } = await this.pool.query<{ recorded_at: Date }>(
      `SELECT e.recorded_at FROM log_leaf l, LATERAL (SELECT recorded_at FROM ledger_entry
         WHERE ledger_entry.subject = l.subject AND ledger_entry.seq = l.seq OFFSET 0) e
       WHERE l.index >= $1 AND l.subject <> $2 ORDER BY l.index LIMIT 1`,
      [from, except],
    );
    return rows[0]?.recorded_at.toISOString();
  }

  async besideLedgers(
    from: number,
    limit: number,
  ): Promise<readonly (LogLeaf & { readonly ledgerHash: string | null })[]> {
    const { rows } = await this.pool.query<LeafRow & { ledger_hash: string | null }>(
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
    const { rows } = await this.pool.query<LedgerPlace>(
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

  async keepCensusGroups(size: number, groups: readonly CensusGroup[]): Promise<void> {
    await this.pool.query(
      `INSERT INTO log_census_group (size, name, ledgers, entries, root)
       SELECT $1, "group", ledgers, entries, decode(root, 'hex')
       FROM json_to_recordset($2::json) AS n("group" text, ledgers integer, entries bigint, root text)
       ON CONFLICT DO NOTHING`,
      [size, rowsOf(groups)],
    );
  }

  async censusGroups(size: number): Promise<readonly CensusGroup[]> {
    const { rows } = await this.pool.query<{ name: string; ledgers: number; entries: string; root: string }>(
      `SELECT name, ledgers, entries, encode(root, 'hex') AS root FROM log_census_group WHERE size = $1 ORDER BY name`,
      [size],
    );
    return rows.map(({ name, ledgers, entries, root }) => ({ group: name, ledgers, entries: Number(entries), root }));
  }

  async note({ watcher, at, trouble }: LogFinding): Promise<void> {
    await this.pool.query(
      `INSERT INTO log_watch (watcher, at, trouble) VALUES ($1, $2, $3)
       ON CONFLICT (watcher) DO UPDATE SET at = excluded.at, trouble = excluded.trouble`,
      [watcher, at, trouble],
    );
  }

  async findings(): Promise<readonly LogFinding[]> {
    const { rows } = await this.pool.query<{ watcher: LogFinding['watcher']; at: Date; trouble: string | null }>(
      `SELECT watcher, at, trouble FROM log_watch ORDER BY watcher`,
    );
    return rows.map(({ watcher, at, trouble }) => ({ watcher, at: at.toISOString(), trouble }));
  }
}
