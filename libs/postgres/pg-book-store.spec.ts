import { setImmediate as turn } from 'node:timers/promises';
import pg from 'pg';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { BookTransaction } from '../ledger/ports/book-store.js';
import { Database, openDatabase } from './open-database.js';
import { PgBookStore } from './pg-book-store.js';

const REQUEST = { caller: 'key bench-1', key: 'k1', bodyHash: 'a' };
const NOTHING = { subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [] };

/** What leaves with BEGIN and with COMMIT is answered with them, and fails for reasons of its own. */
describe('what goes together with the ends of a transaction', () => {
  let fresh: FreshDatabase;
  let database: Database;
  let store: PgBookStore;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    database = await openDatabase({ url: fresh.url, log: silentLog });
    store = new PgBookStore(database.pool);
  });

  afterAll(async () => {
    await database.close();
    await fresh.drop();
  });

  const answers = async (): Promise<number | null> =>
    (await database.pool.query('SELECT FROM request_answer')).rowCount;

  it('takes everything back where the server refuses what went with COMMIT, and says why', async () => {
    const failing = store.besideFolds(async (tx) => {
      await tx.answerBefore(REQUEST);
      tx.leave(tx.keepAnswer(REQUEST, {}));
      tx.leave(tx.write({ ...NOTHING, done: ['no number'] }));
    });
    await expect(failing).rejects.toMatchObject({ code: '22P02' });
    expect(await answers()).toBe(0);
  });

  it.each<[string, (tx: BookTransaction) => Promise<unknown>]>([
    ['read', (tx) => tx.setupVersion()],
    ['write', (tx) => tx.answerBefore(REQUEST)],
  ])('says why BEGIN failed to who wanted to %s with it', async (_what, work) => {
    const cancelled = await store.exclusively(async () => {
      const failing = store.besideFolds(work).then(
        () => undefined,
        (error: unknown) => error,
      );
      await cancelWhoWaits();
      return { failing };
    });
    expect(await cancelled.failing).toMatchObject({ code: '57014' });
    expect(await answers()).toBe(0);
  });

  /** As the superuser that the role of the service is not. */
  async function cancelWhoWaits(): Promise<void> {
    const client = new pg.Client({ connectionString: fresh.url });
    await client.connect();
    const cancel = `SELECT pg_cancel_backend(pid) FROM pg_stat_activity
      WHERE datname = current_database() AND wait_event = 'advisory'`;
    try {
      while ((await client.query(cancel)).rowCount === 0) await turn();
    } finally {
      await client.end();
    }
  }
});
