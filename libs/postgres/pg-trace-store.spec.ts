import pg from 'pg';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { StoredTrace } from '../ledger/ports/trace-store.js';
import { Database, openDatabase } from './open-database.js';
import { PgTraceStore } from './pg-trace-store.js';

const TRACE: StoredTrace = {
  name: 'run-1',
  contentHash: '0'.repeat(64),
  csv: 's,Joint\n0,25\n',
  encoding: 'utf8',
  voltage: null,
  by: 'bench-1',
  at: '2026-03-02T08:30:01.000Z',
};

describe('the table of traces', () => {
  let database: Database;
  let owner: pg.Client;
  let drop: () => Promise<void>;

  beforeAll(async () => {
    const fresh = await migratedDatabase();
    drop = () => fresh.drop();
    database = await openDatabase({ url: fresh.url, log: silentLog });
    owner = new pg.Client({ connectionString: fresh.url });
    await owner.connect();
    await new PgTraceStore(database.pool).put(TRACE);
  });

  afterAll(async () => {
    await owner.end();
    await database.close();
    await drop();
  });

  it.each([
    ['another hash', `UPDATE trace SET content_hash = repeat('1', 64)`],
    ['its removal', `DELETE FROM trace`],
    ['being emptied', `TRUNCATE trace`],
  ])('refuses %s, to the service and to the owner of the database', async (_what, statement) => {
    await expect(database.pool.query(statement)).rejects.toThrow(/permission denied|append-only/);
    await expect(owner.query(statement)).rejects.toThrow('trace is append-only');
    expect(await new PgTraceStore(database.pool).get('run-1')).toEqual(TRACE);
  });

  it('lets the service note, once each, which ledger speaks of which trace', async () => {
    const note = `INSERT INTO trace_use (trace, subject) VALUES ('run-2', 'BRD-1/0001') ON CONFLICT DO NOTHING`;
    expect([(await database.pool.query(note)).rowCount, (await database.pool.query(note)).rowCount]).toEqual([1, 0]);
    await expect(database.pool.query(`DELETE FROM trace_use`)).rejects.toThrow('permission denied');
  });
});
