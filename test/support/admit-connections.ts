import pg from 'pg';
import { testEnvironment } from './test-environment.js';

/** Closes one database to everyone, or opens it again; the server itself serves other tests too. */
export async function admitConnections(url: string, admitted: boolean): Promise<void> {
  const name = new URL(url).pathname.slice(1);
  const client = new pg.Client({ connectionString: testEnvironment('TEST_DATABASE_URL') });
  await client.connect();
  try {
    await client.query(`ALTER DATABASE ${pg.escapeIdentifier(name)} ALLOW_CONNECTIONS ${String(admitted)}`);
    if (admitted) return;
    await client.query('SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = $1', [name]);
  } finally {
    await client.end();
  }
}
