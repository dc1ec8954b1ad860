import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { HOLD_REASONS } from '../domain/holds/hold-reason.js';
import { gravenessOf } from '../domain/holds/graveness.js';
import { listHolds } from './list-holds.js';
import { Queries } from './queries.js';

const HOLDS = 2_000;
const PAGE = { limit: 100, cursor: null };

describe('A page of the desk, gravest first, of many open holds', () => {
  let fresh: FreshDatabase;
  let house: Client;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    house = new Client({ connectionString: fresh.url, options: '-c role=heatbook_app -c heatbook.customer=*' });
    await house.connect();
    const holds = Array.from({ length: HOLDS }, (_, n) => ({
      id: randomUUID(),
      reason: HOLD_REASONS[n % HOLD_REASONS.length],
      raised_at: new Date(Date.UTC(2026, 0, 1) + n * 60_000).toISOString(),
    }));
    await house.query(
      `INSERT INTO hold (id, state, reason, subject, stream, raised_at, causes, evidence, remedy, touched, cause_gone)
       SELECT id, 'open', reason, '{"kind":"unit"}', 'BRD-1/1', raised_at, '[]', '{"summary":"x"}', 'mend', false, false
       FROM json_to_recordset($1::json) AS h(id uuid, reason text, raised_at timestamptz)`,
      [JSON.stringify(holds)],
    );
  });

  afterAll(async () => {
    await house.end();
    await fresh.drop();
  });

  /** Takes the statements down with their values, and has them answered. */
  function overheard(): { queries: Queries; plans: () => Promise<string> } {
    const heard: { text: string; values: unknown[] }[] = [];
    return {
      queries: {
        query: (text: string, values: unknown[] = []) => {
          heard.push({ text, values });
          return house.query(text, values);
        },
      },
      plans: async () => {
        const answers = await Promise.all(
          heard.map(({ text, values }) => house.query<{ 'QUERY PLAN': string }>(`EXPLAIN ${text}`, values)),
        );
        return answers.flatMap(({ rows }) => rows.map((row) => row['QUERY PLAN'])).join('\n');
      },
    };
  }

  it('is read off an index that has this order, without sorting them all', async () => {
    await house.query('SET role = none');
    await house.query('ANALYZE hold');
    await house.query('SET role = heatbook_app');
    const { queries, plans } = overheard();
    const first = await listHolds(queries, { state: 'open' }, PAGE, 'graveness');
    const second = await listHolds(queries, { state: 'open' }, { ...PAGE, cursor: first.next }, 'graveness');
    const order = [...first.items, ...second.items].map(({ reason, raisedAt }) => `${gravenessOf(reason)} ${raisedAt}`);
    expect(order).toEqual([...order].sort());
    expect(order).toHaveLength(200);
    const read = await plans();
    expect(read.match(/hold_by_graveness/g)).toHaveLength(2);
    expect(read).not.toContain('Sort');
  });
});
