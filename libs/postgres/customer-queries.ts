import pg from 'pg';
import { inTransaction } from './in-transaction.js';
import { Queries } from './queries.js';

/**
 * Queries that see one customer's rows only. Each runs in a transaction of its own that names the customer and may not
 * write, on a pool whose connections name nobody: a query that came past this would see nothing.
 */
export class CustomerQueries implements Queries {
  constructor(
    private readonly pool: pg.Pool,
    private readonly customer: string,
  ) {}

  query<R extends pg.QueryResultRow>(text: string, values: unknown[] = []): Promise<pg.QueryResult<R>> {
    return inTransaction(this.pool, async (client) => {
      await client.query('SET TRANSACTION READ ONLY');
      await client.query(`SELECT set_config('heatbook.customer', $1, true)`, [this.customer]);
      return client.query<R>(text, values);
    });
  }
}
