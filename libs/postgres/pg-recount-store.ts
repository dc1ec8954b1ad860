import pg from 'pg';
import { RecountReads, RecountStore } from '../ledger/ports/recount-store.js';
import { inTransaction } from './in-transaction.js';
import { PgRecountReads } from './pg-recount-reads.js';

/** One moment of the database; whoever writes meanwhile neither waits nor is waited for. */
const SNAPSHOT = 'BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY';

/** What a recount compares, on Postgres. */
export class PgRecountStore implements RecountStore {
  constructor(private readonly pool: pg.Pool) {}

  snapshot<T>(work: (reads: RecountReads) => Promise<T>): Promise<T> {
    return inTransaction(this.pool, (client) => work(new PgRecountReads(client)), { begin: SNAPSHOT });
  }
}
