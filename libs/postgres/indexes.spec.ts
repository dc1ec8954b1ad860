import { readFileSync } from 'node:fs';
import pg from 'pg';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { indexAskers } from '../../test/support/index-askers.js';
import { INDEX_BOOK } from '../../test/support/index-book.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { Database, openDatabase } from './open-database.js';

const root = new URL('../../', import.meta.url);
const guide = readFileSync(new URL('docs/guide/indexes.md', root), 'utf8');
/** Rows of the guide's tables: an index, and the file that asks where one is named. */
const ROWS = [...guide.matchAll(/^\| `(\w+)` +\|[^|]*\|(?: `([\w/.-]+)` +\|)?/gm)].map(([, name, file]) => ({
  name,
  file,
}));

interface IndexRow {
  readonly name: string;
  readonly table: string;
  readonly isKey: boolean;
}

describe('indexes', () => {
  let fresh: FreshDatabase;
  let database: Database;
  let looking: pg.Client;
  let indexes: readonly IndexRow[];

  beforeAll(async () => {
    fresh = await migratedDatabase();
    looking = new pg.Client({ connectionString: fresh.url });
    await looking.connect();
    ({ rows: indexes } = await looking.query<IndexRow>(
      `SELECT i.relname AS name, t.relname AS table, x.indisunique AS "isKey"
       FROM pg_index x JOIN pg_class i ON i.oid = x.indexrelid JOIN pg_class t ON t.oid = x.indrelid
       WHERE t.relnamespace = 'public'::regnamespace AND t.relname <> 'migrations' ORDER BY i.relname`,
    ));
    for (const statement of INDEX_BOOK) await looking.query(statement);
    await looking.query('VACUUM (ANALYZE)');
    // Some tables stay small in any house, and are read whole while they are.
    await looking.query(`ALTER DATABASE ${new URL(fresh.url).pathname.slice(1)} SET enable_seqscan = off`);
    // One connection, so that it can be told to hand over what it counted.
    database = await openDatabase({ url: fresh.url, log: silentLog, connections: 1 });
  });

  afterAll(async () => {
    await database.close();
    await looking.end();
    await fresh.drop();
  });

  const named = (some: readonly IndexRow[]): string[] => some.map(({ name }) => name);

  /** How often each index was read so far. */
  const scans = async (): Promise<ReadonlyMap<string, number>> => {
    const handOver = 'SELECT pg_stat_force_next_flush()';
    for (const pool of [database.pool, database.customerPool]) await pool.query(handOver);
    await database.dataSource.query(handOver);
    const { rows } = await looking.query<{ name: string; scans: number }>(
      `SELECT indexrelname AS name, idx_scan::integer AS scans FROM pg_stat_user_indexes`,
    );
    return new Map(rows.map((row) => [row.name, row.scans]));
  };

  it('stand in docs/guide/indexes.md, each of them and no other', () => {
    expect(ROWS.map(({ name }) => name).sort()).toEqual(named(indexes).sort());
  });

  it('that are no keys are asked by a file that speaks of their table', () => {
    const files = new Map(ROWS.map(({ name, file }) => [name, file]));
    const wrong = indexes.filter(({ name, table, isKey }) => {
      // An entity has the name of its table in capitals and small letters.
      const spoken = new RegExp(table.replaceAll('_', '_?'), 'i');
      return !isKey && !spoken.test(readFileSync(new URL(files.get(name) ?? 'package.json', root), 'utf8'));
    });
    expect(named(wrong)).toEqual([]);
  });

  it('that are no keys are each taken by the planner for the question that they are there for', async () => {
    const askers = indexAskers(database);
    expect(Object.keys(askers).sort()).toEqual(named(indexes.filter(({ isKey }) => !isKey)).sort());
    const passedOver: string[] = [];
    for (const [name, ask] of Object.entries(askers)) {
      const before = await scans();
      await ask();
      if ((await scans()).get(name) === before.get(name)) passedOver.push(name);
    }
    expect(passedOver).toEqual([]);
  });
});
