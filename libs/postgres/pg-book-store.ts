import pg from 'pg';
import { refKey } from '../domain/events/event-order.js';
import { shardOf } from '../ledger/intake/shard-of.js';
import { Acceptance, BookStore, BookTransaction, IncomingEvent, TryAgain } from '../ledger/ports/book-store.js';
import { clearancesOver, forgetAnswers } from './pg-clearances.js';
import { LimitRecheck } from '../ledger/limits/limit-recheck.js';
import { inTransaction } from './in-transaction.js';
import { dueRechecks } from './pg-rechecks.js';
import { columnsOf, longText, longTexts, rowsOf, withArrays } from './bulk-rows.js';
import { PgBookTransaction } from './pg-book-transaction.js';
import { requestColumns } from './pg-requests.js';

/** Namespaces of the advisory locks: the whole book, and one lock a shard. */
const BOOK_LOCK = 7_201_001;
const SHARD_LOCKS = 7_201_002;
const MOST_TRIES = 5;
const COLUMNS = ['source', 'id', 'type', 'subject', 'contentHash', 'shard'] as const;

const BESIDE_OTHERS = `BEGIN; SELECT pg_advisory_xact_lock_shared(${String(BOOK_LOCK)})`;
const ALONE = `BEGIN; SELECT pg_advisory_xact_lock(${String(BOOK_LOCK)})`;
/** Locks on rows alone are a commit that waits for the disk; nobody would miss them after a crash. */
const COMMIT_OF_NOTHING = 'SET LOCAL synchronous_commit = off; COMMIT';

/**
 * One statement is one commit: the events and their marks as pending. Prepared once a connection: single posts are inserted by
 * a few at a time, and reading the statement anew took a fifth of each insert.
 */
const ACCEPT = `WITH stored AS (
   INSERT INTO intake_event (source, event_id, type, subject, content_hash, shard, payload, request_id, traceparent)
   SELECT source, event_id, type, subject, content_hash, shard, ${longText('$9')}, request_id, traceparent
   FROM unnest($1::text[], $2::text[], $3::text[], $4::text[], $5::text[], $6::smallint[], $7::integer[],
     $8::integer[], $11::text[], $12::text[])
     AS n(source, event_id, type, subject, content_hash, shard, start, length, request_id, traceparent)
   ON CONFLICT (source, event_id) DO NOTHING
   RETURNING number, shard, subject, source, event_id
 ), waiting AS (
   INSERT INTO intake_pending (number, shard, subject) SELECT number, shard, subject FROM stored
 )
 SELECT count(*)::integer AS count,
   CASE WHEN count(*) < $10 THEN array_agg(source || ' ' || event_id) END AS keys FROM stored`;

/** The book's write side on Postgres. */
export class PgBookStore implements BookStore {
  readonly shards = 16;

  constructor(private readonly pool: pg.Pool) {}

  async accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    if (events.length === 0) return [];
    for (let tries = 1; ; tries += 1) {
      try {
        return await this.insert(events);
      } catch (error) {
        // Two requests with the same events in another order can wait for each other; one of them is tried again.
        const passing = error instanceof pg.DatabaseError && error.code === '40P01';
        if (!passing || tries >= MOST_TRIES) throw error;
      }
    }
  }

  private async insert(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    const rows = events.map((event) => ({ ...event, shard: shardOf(event.subject, this.shards) }));
    const { bytes, starts, lengths } = longTexts(events.map(({ payload }) => payload));
    const { ids, traceparents } = requestColumns(events);
    const { rows: told } = await this.pool.query<{ count: number; keys: string[] | null }>({
      name: 'accept_events',
      text: ACCEPT,
      values: withArrays([...columnsOf(rows, COLUMNS), starts, lengths, bytes, events.length, ids, traceparents]),
    });
    const [answer] = told;
    if (answer?.count === events.length) return events.map(() => 'accepted');
    const fresh = new Set(answer?.keys);
    // Of events with the same key the first is the one that was stored.
    const answers = events.map((event): Acceptance | null => (fresh.delete(refKey(event)) ? 'accepted' : null));
    const known = await this.knownHashes(events.filter((_, n) => answers[n] === null));
    return events.map((event, n) => {
      return answers[n] ?? (known.get(refKey(event)) === event.contentHash ? 'duplicate' : 'conflict');
    });
  }

  private async knownHashes(events: readonly IncomingEvent[]): Promise<ReadonlyMap<string, string>> {
    const { rows } = await this.pool.query<{ source: string; event_id: string; content_hash: string }>(
      `SELECT source, event_id, content_hash FROM intake_event
       WHERE (source, event_id) IN (SELECT source, id FROM json_to_recordset($1::json) AS t(source text, id text))`,
      [rowsOf(events.map(({ source, id }) => ({ source, id })))],
    );
    return new Map(rows.map((row) => [refKey({ source: row.source, id: row.event_id }), row.content_hash]));
  }

  async withShards<T>(
    shards: readonly number[],
    work: (tx: BookTransaction, own: readonly number[]) => Promise<T>,
  ): Promise<T | 'busy'> {
    const odd = shards.find((shard) => !Number.isInteger(shard));
    if (odd !== undefined) throw new Error(`no shard ${String(odd)}`);
    const asked = shards.map((shard) => `(${String(shard)})`).join(', ');
    const begin = `${BESIDE_OTHERS}; SELECT shard FROM (VALUES ${asked}) AS asked(shard)
      WHERE pg_try_advisory_xact_lock(${String(SHARD_LOCKS)}, shard)`;
    return this.inside<T | 'busy'>(begin, (tx, begun) => {
      const own = begun?.rows.map(({ shard }: { shard: number }) => shard) ?? [];
      return own.length === 0 ? Promise.resolve('busy') : work(tx, own);
    });
  }

  async besideFolds<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T> {
    return this.inside(BESIDE_OTHERS, work, { together: true });
  }

  async exclusively<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T> {
    for (let tries = 1; ; tries += 1) {
      try {
        return await this.inside(ALONE, work);
      } catch (error) {
        if (!(error instanceof TryAgain) || tries >= MOST_TRIES) throw error;
      }
    }
  }

  async rechecksDue(now: string): Promise<readonly LimitRecheck[]> {
    return dueRechecks(this.pool, now);
  }

  async shardsDue(): Promise<readonly number[]> {
    const { rows } = await this.pool.query<{ shard: number }>(
      `SELECT DISTINCT shard FROM intake_pending WHERE due_at <= now() ORDER BY shard`,
    );
    return rows.map(({ shard }) => shard);
  }

  async unpark(ref?: {
    readonly source: string;
    readonly id: string;
  }): Promise<{ count: number; shards: readonly number[] }> {
    return inTransaction(this.pool, async (client) => {
      const { rows } = await client.query<{ number: string; subject: string }>(
        `DELETE FROM intake_parked p USING intake_event e
         WHERE e.number = p.number AND ($1::text IS NULL OR (e.source = $1 AND e.event_id = $2))
         RETURNING p.number, e.subject`,
        [ref?.source ?? null, ref?.id ?? null],
      );
      const pending = rows.map(({ number, subject }) => ({ number, subject, shard: shardOf(subject, this.shards) }));
      await client.query(
        `INSERT INTO intake_pending (number, shard, subject, retried)
         SELECT number, shard, subject, true
         FROM json_to_recordset($1::json) AS n(number bigint, shard smallint, subject text)`,
        [rowsOf(pending)],
      );
      return { count: rows.length, shards: [...new Set(pending.map(({ shard }) => shard))].sort((a, b) => a - b) };
    });
  }

  clearancesOver(now: string, limit: number): Promise<readonly { id: string; subject: string }[]> {
    return clearancesOver(this.pool, now, limit);
  }

  forgetAnswers(before: string): Promise<void> {
    return forgetAnswers(this.pool, before);
  }

  private async inside<T>(
    begin: string,
    work: (tx: BookTransaction, begun: pg.QueryResult | undefined) => Promise<T>,
    { together = false } = {},
  ): Promise<T> {
    let told: PgBookTransaction | undefined;
    const tell = async (client: pg.PoolClient, begun: Promise<pg.QueryResult | undefined>): Promise<T> => {
      const tx = (told = new PgBookTransaction(client, this.shards, begun));
      const result = await work(tx, together ? undefined : await begun);
      await tx.allSent();
      tx.assertSound();
      return result;
    };
    return inTransaction(this.pool, tell, {
      ...{ begin, together },
      commit: () => (told?.hasChanged === true ? 'COMMIT' : COMMIT_OF_NOTHING),
      sent: async () => told?.left(),
    });
  }
}
