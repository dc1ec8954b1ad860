import pg from 'pg';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { INDEX_BOOK } from '../../test/support/index-book.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { Database, openDatabase } from './open-database.js';
import { PgBookStore } from './pg-book-store.js';

const SHARD = 3;

describe('claims after much was folded that no vacuum has come by', () => {
  let fresh: FreshDatabase;
  let database: Database;
  let looking: pg.Client;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    looking = new pg.Client({ connectionString: fresh.url });
    await looking.connect();
    await looking.query('ALTER TABLE intake_pending SET (autovacuum_enabled = off)');
    for (const statement of INDEX_BOOK) await looking.query(statement);
    await looking.query('ANALYZE');
    await looking.query('DELETE FROM intake_pending WHERE number <= 9900');
    database = await openDatabase({ url: fresh.url, log: silentLog, connections: 1 });
  });

  afterAll(async () => {
    await database.close();
    await looking.end();
    await fresh.drop();
  });

  /** Pages of the table that a claim looked at. */
  const pagesOfClaim = async (): Promise<number> => {
    const before = await pagesRead();
    const claimed = await new PgBookStore(database.pool).withShards([SHARD], (tx) => tx.claim([SHARD], 500));
    expect(claimed).toHaveLength(6);
    await database.pool.query('SELECT pg_stat_force_next_flush()');
    return (await pagesRead()) - before;
  };

  const pagesRead = async (): Promise<number> => {
    const { rows } = await looking.query<{ pages: number }>(
      `SELECT (heap_blks_hit + heap_blks_read)::integer AS pages FROM pg_statio_user_tables WHERE relname = 'intake_pending'`,
    );
    return rows[0]?.pages ?? NaN;
  };

  it('do not come by it more than once', async () => {
    const first = await pagesOfClaim();
    expect(first).toBeGreaterThan(50);
    expect(await pagesOfClaim()).toBeLessThan(first / 2);
  });
});
