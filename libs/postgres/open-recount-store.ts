import pg from 'pg';
import { RecountStore } from '../ledger/ports/recount-store.js';
import { AS_THE_HOUSE, MIGRATIONS, PLANNING } from './open-database.js';
import { PgRecountStore } from './pg-recount-store.js';

/** The database has no book in it, or one of another release. The message says what would mend that. */
export class NoSuchBook extends Error {
  override readonly name = 'NoSuchBook';
}

/** Opens a database to look at, and neither migrates nor changes it. @throws NoSuchBook */
export async function openRecountStore(url: string): Promise<{ readonly store: RecountStore; close(): Promise<void> }> {
  const options = [AS_THE_HOUSE, ...PLANNING, '-c default_transaction_read_only=on'].join(' ');
  const pool = new pg.Pool({ connectionString: url, max: 1, application_name: 'heatbook recount', options });
  // Whoever works on a connection that breaks learns of it from the statement.
  pool.on('error', () => undefined);
  try {
    await requireSchema(pool);
  } catch (error) {
    await pool.end();
    throw error;
  }
  return { store: new PgRecountStore(pool), close: () => pool.end() };
}

async function requireSchema(pool: pg.Pool): Promise<void> {
  const { rows: found } = await pool.query<{ there: boolean }>(`SELECT to_regclass('migrations') IS NOT NULL AS there`);
  if (found[0]?.there !== true) throw new NoSuchBook('This database has no book in it.');
  const { rows } = await pool.query<{ name: string }>('SELECT name FROM migrations');
  const known = new Set<string>(MIGRATIONS.map((Migration) => new Migration().name));
  const there = rows.map(({ name }) => name);
  if (there.some((name) => !known.has(name))) {
    throw new NoSuchBook('A newer release has written this book: recount it with that one.');
  }
  if (there.length < known.size) {
    throw new NoSuchBook('An older release has written this book: start this release on it once, which migrates it.');
  }
}
