import { randomBytes } from 'node:crypto';
import { Client } from 'pg';
import { testEnvironment } from './test-environment.js';

export interface FreshDatabase {
  readonly url: string;
  /** Removes the database, open connections included. */
  drop(): Promise<void>;
}

/** A database of one's own on the Postgres that the suites share: empty, or a copy of one that nobody is connected to. */
export async function freshDatabase(template = 'template0'): Promise<FreshDatabase> {
  const name = `test_${process.pid}_${randomBytes(6).toString('hex')}`;
  const url = new URL(testEnvironment('TEST_DATABASE_URL'));
  await runOnServer(`CREATE DATABASE ${name} ENCODING 'UTF8' LOCALE 'C' TEMPLATE ${template}`);
  url.pathname = `/${name}`;
  return { url: url.href, drop: () => runOnServer(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`) };
}

async function runOnServer(statement: string): Promise<void> {
  const client = new Client({ connectionString: testEnvironment('TEST_DATABASE_URL') });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
