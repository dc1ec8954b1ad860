import pg from 'pg';
import { TryAgain } from '../ledger/ports/book-store.js';

/** deadlock_detected, serialization_failure: the same work can be done again. */
const PASSING = new Set(['40P01', '40001']);

/** How a transaction begins and ends, where that is more than BEGIN and COMMIT. */
export interface Bracket {
  /** BEGIN, and what is to be asked in the same round trip. Without parameters: several statements take none. */
  readonly begin?: string;
  /**
   * Whether the work begins before `begin` is answered, so that its first questions leave with it. It must read only until
   * then: what is written after a BEGIN that was cancelled would be a commit of its own.
   */
  readonly together?: boolean;
  /** COMMIT, and what is to be said in the same round trip. Asked for once the work has returned. */
  readonly commit?: () => string;
  /** What was sent before COMMIT and is answered with it. */
  readonly sent?: () => Promise<unknown>;
}

/**
 * Runs work in one transaction on one connection: committed when it returns, rolled back when it throws.
 * @param work is handed what the last statement of `begin` answers: has answered, unless they go together
 * @throws TryAgain where Postgres chose this transaction to give way to another.
 */
export async function inTransaction<T>(
  pool: pg.Pool,
  work: (client: pg.PoolClient, begun: Promise<pg.QueryResult | undefined>) => Promise<T>,
  { begin = 'BEGIN', together = false, commit = () => 'COMMIT', sent = () => Promise.resolve() }: Bracket = {},
): Promise<T> {
  const client = await pool.connect();
  let broken: Error | undefined;
  // A server that ends the connection between two statements says so by an event, which would end this process.
  const broke = (error: Error): void => {
    broken = error;
  };
  client.on('error', broke);
  const begun = lastAnswer(client, begin);
  // Told below, and not before the work is over.
  begun.catch(() => undefined);
  try {
    if (!together) await begun;
    const result = await work(client, begun).catch(async (error: unknown) => {
      // Where `begin` failed, all after it did, for a reason that says nothing.
      await begun;
      throw error;
    });
    // A statement that failed and was swallowed by the work turns COMMIT into ROLLBACK, which Postgres does not call an error.
    const [committed] = await Promise.all([lastAnswer(client, commit()), sent(), begun]);
    if (committed?.command !== 'COMMIT') {
      throw new Error('the transaction was rolled back: one of its statements had failed');
    }
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

async function lastAnswer(client: pg.PoolClient, statements: string): Promise<pg.QueryResult | undefined> {
  // Several statements are answered by a list, of which the types of pg do not know.
  return [await client.query(statements)].flat().at(-1);
}
