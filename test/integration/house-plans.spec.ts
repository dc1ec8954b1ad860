import { Client } from 'pg';
import { DataSource } from 'typeorm';
import { PlanForTheHouse1764370000000 } from '../../migrations/1764370000000-plan-for-the-house.js';
import { FreshDatabase } from '../support/fresh-database.js';
import { migratedDatabase } from '../support/migrated-database.js';

/** In a young book, of which Postgres has no statistics yet. */
const SUBJECTS = 1_000;

interface Plan {
  readonly 'Node Type': string;
  readonly 'Plan Rows': number;
  readonly Plans?: readonly Plan[];
}

/** What the policies of customers make of the plans of the house, which sees everything. */
describe('the planner, asked by the house', () => {
  let fresh: FreshDatabase;
  let house: Client;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    house = new Client({ connectionString: fresh.url, options: '-c role=heatbook_app -c heatbook.customer=*' });
    await house.connect();
    await house.query(
      `INSERT INTO subject (key, kind, head_hash, state)
       SELECT 'BRD-1/' || n, 'unit', '0', repeat('x', 1000) FROM generate_series(1, $1::integer) n`,
      [SUBJECTS],
    );
  });

  afterAll(async () => {
    await house.end();
    await fresh.drop();
  });

  async function planned(statement: string, values: unknown[] = []): Promise<Plan> {
    const { rows } = await house.query<{ 'QUERY PLAN': readonly { Plan: Plan }[] }>(
      `EXPLAIN (FORMAT JSON) ${statement}`,
      values,
    );
    const [row] = rows[0]?.['QUERY PLAN'] ?? [];
    if (row === undefined) throw new Error('no plan');
    return row.Plan;
  }

  const expectedRows = async (): Promise<number> => (await planned('SELECT key FROM subject'))['Plan Rows'];

  /** Whether a write of many rows goes through the whole table for each of them. */
  async function goesThroughAllForEach(): Promise<boolean> {
    const plan = await planned(
      `UPDATE subject s SET head_seq = n.seq FROM json_to_recordset($1::json) AS n(key text, seq integer) WHERE s.key = n.key`,
      [JSON.stringify(Array.from({ length: 100 }, (_, n) => ({ key: `BRD-1/${String(n)}`, seq: 1 })))],
    );
    const [join] = plan.Plans?.filter((node) => node['Node Type'] === 'Nested Loop') ?? [];
    return join?.Plans?.some((node) => node['Node Type'] === 'Seq Scan') === true;
  }

  it('does not take a table for all but empty, nor go through it for every row of a write', async () => {
    expect(await expectedRows()).toBeGreaterThan(SUBJECTS / 4);
    expect(await goesThroughAllForEach()).toBe(false);
  });

  it('can be brought back to what it was before, and forward again', async () => {
    const dataSource = new DataSource({ type: 'postgres', url: fresh.url });
    await dataSource.initialize();
    const runner = dataSource.createQueryRunner();
    const migration = new PlanForTheHouse1764370000000();
    try {
      await migration.down(runner);
      expect(await expectedRows()).toBeLessThan(SUBJECTS / 4);
      expect(await goesThroughAllForEach()).toBe(true);
      await migration.up(runner);
      expect(await expectedRows()).toBeGreaterThan(SUBJECTS / 4);
      expect(await goesThroughAllForEach()).toBe(false);
    } finally {
      await runner.release();
      await dataSource.destroy();
    }
  });
});
