import pg from 'pg';
import { StreamKey } from '../domain/subject/subject.js';
import { CensusGroup } from '../ledger/log/log-evidence.js';
import { LedgerReach } from '../ledger/log/log-reader.js';
import { LogFinding, LogLag, LogLeaf, LogStore, LogTransaction } from '../ledger/ports/log-store.js';
import { inTransaction } from './in-transaction.js';
import { rowsOf } from './bulk-rows.js';
import { PgLogCheckReads } from './pg-log-check-reads.js';
import { LEAF_COLUMNS, LeafRow, toLeaf } from './pg-log-reads.js';
import { PgLogTransaction } from './pg-log-transaction.js';

/** Namespace of the advisory lock that the sequencer works under. */
const LOG_LOCK = 7_201_003;
const ALONE = `BEGIN; SELECT pg_try_advisory_xact_lock(${String(LOG_LOCK)}) AS got`;

/** The site-wide log on Postgres. The inbox is filled by a trigger on the ledger, in the commit of the entries. */
export class PgLogStore extends PgLogCheckReads implements LogStore {
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

  async lag(): Promise<LogLag> {
    const { rows } = await this.pool.query<{ unplaced: Date | null; unsigned: Date | null; signed: boolean }>(
      `WITH signed AS (SELECT size FROM log_checkpoint ORDER BY number DESC LIMIT 1)
       SELECT (SELECT recorded_at FROM ledger_entry e, (SELECT subjects[1] AS subject, seqs[1] AS seq
            FROM log_inbox ORDER BY number LIMIT 1) first
          WHERE e.subject = first.subject AND e.seq = first.seq) AS unplaced,
         (SELECT recorded_at FROM ledger_entry e, (SELECT subject, seq FROM log_leaf
            WHERE index = (SELECT size FROM signed) OFFSET 0) next
          WHERE e.subject = next.subject AND e.seq = next.seq) AS unsigned,
         EXISTS (SELECT FROM signed) AS signed`,
    );
    const { unplaced = null, unsigned = null, signed = false } = rows[0] ?? {};
    const unplacedSince = unplaced?.toISOString() ?? null;
    return { unplacedSince, unsignedSince: signed ? (unsigned?.toISOString() ?? unplacedSince) : null };
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

  async keepCensusGroups(size: number, groups: readonly CensusGroup[]): Promise<void> {
    await this.pool.query(
      `INSERT INTO log_census_group (size, name, ledgers, entries, root)
       SELECT $1, "group", ledgers, entries, decode(root, 'hex')
       FROM json_to_recordset($2::json) AS n("group" text, ledgers integer, entries bigint, root text)
       ON CONFLICT DO NOTHING`,
      [size, rowsOf(groups)],
    );
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
