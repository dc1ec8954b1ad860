import pg from 'pg';
import { TryAgain } from '../ledger/ports/book-store.js';

/** deadlock_detected, serialization_failure: the same work can be done again. */
const PASSING = new Set(['40P01', '40001']);

/**
 * Runs work in one transaction on one connection: committed when it returns, rolled back when it throws.
 * @throws TryAgain where Postgres chose this transaction to give way to another.
 */
export async function inTransaction<T>(pool: pg.Pool, work: (client: pg.PoolClient) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  let broken: Error | undefined;
  // A server that ends the connection between two statements says so by an event, which would end this process.
  const broke = (error: Error): void => {
    broken = error;
  };
  client.on('error', broke);
  try {
    await client.query('BEGIN');
    const result = await work(client);
    // A statement that failed and was swallowed by the work turns COMMIT into ROLLBACK, which Postgres does not call an error.
    const { command } = await client.query('COMMIT');
    if (command !== 'COMMIT') throw new Error('the transaction was rolled back: one of its statements had failed');
    return result;
  } catch (error) {
    await client.query('ROLLBACK').catch((rollback: unknown) => {
      broken = rollback instanceof Error ? rollback : new Error(String(rollback));
    });
    if (error instanceof pg.DatabaseError && PASSING.has(error.code ?? '')) {
      throw new TryAgain(error.message, { cause: error });
    }
    throw error;
  } finally {
    client.off('error', broke);
    // A connection that broke or could not roll back is thrown away rather than handed on.
    client.release(broken);
  }
}
