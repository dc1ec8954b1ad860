import { DataSource } from 'typeorm';
import { SettleTables1764530000000 } from '../../migrations/1764530000000-settle-tables.js';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { INDEX_BOOK } from '../../test/support/index-book.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';

/** Append-only tables that get a row when somebody decides, signs in or is refused, or once in a while, not with every event. */
const WRITTEN_SELDOM = [
  'access_record',
  'log_census_group',
  'log_checkpoint',
  'log_identity',
  'person_change',
  'setup_revision',
  'trace',
];

const APPEND_ONLY = `SELECT c.relname AS name, c.reloptions AS options FROM pg_class c
  JOIN pg_trigger t ON t.tgrelid = c.oid AND t.tgname = c.relname || '_append_only' ORDER BY c.relname`;
const SCHEMA = `SELECT relname, reloptions, pg_get_indexdef(oid) AS made FROM pg_class
  WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'i') ORDER BY relname`;

describe('settings of tables', () => {
  let fresh: FreshDatabase;
  let owner: DataSource;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    owner = new DataSource({ type: 'postgres', url: fresh.url, poolSize: 2 });
    await owner.initialize();
  });

  afterAll(async () => {
    await owner.destroy();
    await fresh.drop();
  });

  it('have what every event adds to vacuumed and frozen after a number of rows, whatever it has grown to', async () => {
    const tables = await owner.query<{ name: string; options: string[] | null }[]>(APPEND_ONLY);
    const settled = tables.filter(({ options }) => {
      return ['insert_scale_factor=0', 'freeze_min_age=0'].every((end) => options?.some((one) => one.endsWith(end)));
    });
    const others = tables.filter((table) => !settled.includes(table));
    expect(others.map(({ name }) => name)).toEqual(WRITTEN_SELDOM);
    expect(settled.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['intake_event', 'ledger_entry', 'log_leaf', 'mark_group']),
    );
  });

  it('come to a book that is there, and go again, without a row of it being touched', async () => {
    for (const statement of INDEX_BOOK) await owner.query(statement);
    const rows = (): Promise<unknown> =>
      owner.query(
        `SELECT 'subject' AS name, count(*), min(xmin::text), max(ctid) FROM subject UNION ALL
         SELECT 'ledger_entry', count(*), min(xmin::text), max(ctid) FROM ledger_entry ORDER BY name`,
      );
    const [schema, book] = [await owner.query<unknown>(SCHEMA), await rows()];
    const runner = owner.createQueryRunner();
    const migration = new SettleTables1764530000000();
    await migration.down(runner);
    expect(await owner.query<unknown>(SCHEMA)).not.toEqual(schema);
    await migration.up(runner);
    await runner.release();
    expect(await owner.query<unknown>(SCHEMA)).toEqual(schema);
    expect(await rows()).toEqual(book);
  });
});
