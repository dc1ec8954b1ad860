import pg from 'pg';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { Database, openDatabase } from './open-database.js';

describe('a connection that the server ends while nobody waits for an answer', () => {
  let fresh: FreshDatabase;
  let database: Database;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    database = await openDatabase({ url: fresh.url, log: silentLog });
  });

  afterAll(async () => {
    await database.close();
    await fresh.drop();
  });

  it.each(['pool', 'sidePool', 'customerPool'] as const)(
    'fails its next statement, not the process: %s',
    async (name) => {
      const client = await database[name].connect();
      expect(client.listenerCount('error')).toBe(1);
      const ended = new Promise((resolve) =>
        client.once('end', () => {
          resolve(undefined);
        }),
      );
      const { rows } = await client.query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
      const other = new pg.Client({ connectionString: fresh.url });
      await other.connect();
      await other.query('SELECT pg_terminate_backend($1)', [rows[0]?.pid]);
      await other.end();
      await ended;
      await expect(client.query('SELECT 1')).rejects.toThrow('not queryable');
      client.release();
      expect((await database[name].query('SELECT 1 AS one')).rows).toEqual([{ one: 1 }]);
    },
  );

  it('is listened to for setup and keys too', async () => {
    const runner = database.dataSource.createQueryRunner();
    const client = (await runner.connect()) as pg.PoolClient;
    // TypeORM has one of its own while it works on a connection.
    expect(client.listenerCount('error')).toBe(2);
    await runner.release();
  });
});
