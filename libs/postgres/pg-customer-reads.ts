import pg from 'pg';
import { CustomerReads, CustomersUnconfined, THE_HOUSE } from '../ledger/ports/customer-reads.js';
import { ReadStore } from '../ledger/ports/read-store.js';
import { CustomerQueries } from './customer-queries.js';
import { PgReadStore } from './pg-read-store.js';

/** The read side for customers, confined by row-level security. */
export class PgCustomerReads implements CustomerReads {
  /**
   * @param pool one whose connections name no customer
   * @param confined whether row-level security binds the role that it works under
   */
  constructor(
    private readonly pool: pg.Pool,
    private readonly confined: boolean,
  ) {}

  of(customer: string): ReadStore {
    if (!this.confined) {
      throw new CustomersUnconfined(
        'row-level security does not bind the database role: connect as one that may take heatbook_app, or as one that is neither superuser nor BYPASSRLS',
      );
    }
    return new PgReadStore(new CustomerQueries(this.pool, customer === THE_HOUSE ? '' : customer), 'customer');
  }
}
