import pg from 'pg';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { BookTransaction } from '../ledger/ports/book-store.js';
import { GENESIS_HASH } from '../ledger/ports/seal.js';
import { Database, openDatabase } from './open-database.js';
import { PgBookTransaction } from './pg-book-transaction.js';

const UNIT = 'BRD-1/0001';
const NOW = '2026-03-02T08:00:00.000Z';
const REQUEST = { caller: 'key bench-1', key: 'k1', bodyHash: 'a' };
const NOTHING = { subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [] };

/** Only what has changed nothing may be committed without waiting for the disk. */
describe('whether a transaction has changed anything', () => {
  let fresh: FreshDatabase;
  let database: Database;
  let client: pg.PoolClient;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    database = await openDatabase({ url: fresh.url, log: silentLog });
    await database.pool.query(`INSERT INTO subject (key, head_hash) VALUES ($1, $2)`, [UNIT, GENESIS_HASH]);
  });

  afterAll(async () => {
    await database.close();
    await fresh.drop();
  });

  beforeEach(async () => {
    client = await database.pool.connect();
    await client.query('BEGIN');
  });

  afterEach(async () => {
    await client.query('ROLLBACK');
    client.release();
  });

  const hasChanged = async (work: (tx: BookTransaction) => Promise<unknown>): Promise<boolean> => {
    const tx = new PgBookTransaction(client, 16, Promise.resolve());
    await work(tx);
    return tx.hasChanged;
  };

  it.each<[string, (tx: BookTransaction) => Promise<unknown>]>([
    ['claiming', (tx) => tx.claim([0], 10)],
    ['claiming subjects', (tx) => tx.claimSubjects([UNIT])],
    ['peeking', (tx) => tx.peek([UNIT])],
    ['locking', (tx) => tx.load([UNIT], ['devices/D1'])],
    ['reading what stands', (tx) => tx.standing({ keys: [UNIT], ifKnown: ['devices/D1'], alsoHeld: [], openAt: NOW })],
    ['reading entries', (tx) => tx.entries([UNIT])],
    ['asking for the setup', (tx) => tx.setupVersion()],
    ['writing nothing', (tx) => tx.write(NOTHING)],
  ])('not by %s', async (_what, work) => {
    expect(await hasChanged(work)).toBe(false);
  });

  it.each<[string, (tx: BookTransaction) => Promise<unknown>]>([
    ['opening a subject', (tx) => tx.load(['BRD-1/0002'])],
    [
      'opening one with what stands',
      (tx) => tx.standing({ keys: ['BRD-1/0003'], ifKnown: [], alsoHeld: [], openAt: NOW }),
    ],
    ['a request under a key', (tx) => tx.answerBefore(REQUEST)],
    ['the answer to one', (tx) => tx.keepAnswer(REQUEST, {})],
    ['a revision of the setup', (tx) => tx.enterSetup('operator', 'ann', { qualifications: [] }, 'spec')],
    ['an event that is dropped', (tx) => tx.dropParked({ source: '/stations/S1', id: 'e1' })],
    ['settling an event', (tx) => tx.write({ ...NOTHING, done: ['1'] })],
  ])('by %s', async (_what, work) => {
    expect(await hasChanged(work)).toBe(true);
  });
});
