import pg from 'pg';
import { Attempts, FORGOTTEN_AFTER_MS } from '../ledger/identity/back-off.js';
import { AttemptStore, Tried } from '../ledger/ports/attempt-store.js';
import { inTransaction } from './in-transaction.js';

/** Forgotten rows that one failure clears away: more than it adds, so that guessing at names fills no table. */
const CLEARED_AT_ONCE = 10;

/** Wrong passwords in Postgres, so that all processes count together. */
export class PgAttemptStore implements AttemptStore {
  constructor(private readonly pool: pg.Pool) {}

  async of(name: string): Promise<Attempts | undefined> {
    return attemptsOf(this.pool, name);
  }

  inTurn<T>(name: string, attempt: (before: Attempts | undefined) => Promise<Tried<T>>): Promise<T> {
    return inTransaction(this.pool, async (client) => {
      // There may be no row to lock yet.
      await client.query(`SELECT pg_advisory_xact_lock(hashtext($1))`, [`heatbook password ${name}`]);
      const { keep, result } = await attempt(await attemptsOf(client, name));
      if (keep === undefined) await client.query(`DELETE FROM password_attempt WHERE name = $1`, [name]);
      else await this.keep(client, name, keep);
      return result;
    });
  }

  private async keep(client: pg.PoolClient, name: string, { failures, lastAt }: Attempts): Promise<void> {
    await client.query(
      `INSERT INTO password_attempt (name, failures, last_at) VALUES ($1, $2, $3)
       ON CONFLICT (name) DO UPDATE SET failures = excluded.failures, last_at = excluded.last_at`,
      [name, failures, lastAt],
    );
    // After it, and passing over what others hold: so nobody waits for somebody who waits.
    const forgottenAt = new Date(Date.parse(lastAt) - FORGOTTEN_AFTER_MS).toISOString();
    await client.query(
      `DELETE FROM password_attempt WHERE name IN (SELECT name FROM password_attempt WHERE last_at <= $1
         ORDER BY last_at LIMIT $2 FOR UPDATE SKIP LOCKED)`,
      [forgottenAt, CLEARED_AT_ONCE],
    );
  }
}

async function attemptsOf(client: pg.Pool | pg.PoolClient, name: string): Promise<Attempts | undefined> {
  const { rows } = await client.query<{ failures: number; last_at: Date }>(
    `SELECT failures, last_at FROM password_attempt WHERE name = $1`,
    [name],
  );
  const [row] = rows;
  return row === undefined ? undefined : { failures: row.failures, lastAt: row.last_at.toISOString() };
}
