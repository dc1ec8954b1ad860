import pg from 'pg';
import { AccountData } from '../ledger/identity/account.js';
import { countedAs } from '../ledger/identity/back-off.js';
import { accountOf, isSameAccess, isSameAccount } from '../ledger/identity/account-change.js';
import { Person, PersonChange, PersonStore, Stamp } from '../ledger/ports/person-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { fromCursor, toCursor } from './cursor.js';
import { inTransaction } from './in-transaction.js';
import { PERSON_COLUMNS, PersonRow, toPerson } from './person-row.js';

/** Accounts in Postgres. */
export class PgPersonStore implements PersonStore {
  constructor(private readonly pool: pg.Pool) {}

  add(name: string, account: AccountData, passwordHash: string, stamp: Stamp): Promise<boolean> {
    return inTransaction(this.pool, async (client) => {
      const { printedName, roles, customer, disabled } = account;
      const { rowCount } = await client.query(
        `INSERT INTO person (name, printed_name, roles, customer, disabled, password_hash, revision, created_at, changed_at)
         VALUES ($1, $2, $3, $4, $5, $6, 1, $7, $7) ON CONFLICT (name) DO NOTHING`,
        [name, printedName, roles, customer, disabled, passwordHash, stamp.at],
      );
      if (rowCount !== 1) return false;
      await record(client, { person: name, revision: 1, what: 'created', account, ...stamp });
      return true;
    });
  }

  revise(name: string, account: AccountData, stamp: Stamp): Promise<Person | undefined> {
    return inTransaction(this.pool, async (client) => {
      const before = await lockPerson(client, name);
      if (before === undefined || isSameAccount(before, account)) return before;
      const { printedName, roles, customer, disabled } = account;
      const { rows } = await client.query<PersonRow>(
        `UPDATE person p SET printed_name = $2, roles = $3, customer = $4, disabled = $5, revision = revision + 1,
           changed_at = $6 WHERE name = $1 RETURNING ${PERSON_COLUMNS}`,
        [name, printedName, roles, customer, disabled, stamp.at],
      );
      const revision = before.revision + 1;
      await record(client, { person: name, revision, what: 'revised', account, ...stamp });
      if (!isSameAccess(before, account)) await endSessions(client, name);
      return rows.map(toPerson)[0];
    });
  }

  setPassword(name: string, passwordHash: string, stamp: Stamp): Promise<boolean> {
    return inTransaction(this.pool, async (client) => {
      const before = await lockPerson(client, name);
      if (before === undefined) return false;
      const revision = before.revision + 1;
      await client.query(`UPDATE person SET password_hash = $2, revision = $3, changed_at = $4 WHERE name = $1`, [
        name,
        passwordHash,
        revision,
        stamp.at,
      ]);
      await record(client, { person: name, revision, what: 'password-changed', account: accountOf(before), ...stamp });
      await endSessions(client, name);
      const counted = [countedAs(name, 'door'), countedAs(name, 'desk')];
      await client.query(`DELETE FROM password_attempt WHERE name = ANY($1)`, [counted]);
      return true;
    });
  }

  async find(name: string): Promise<Person | undefined> {
    const { rows } = await this.pool.query<PersonRow>(`SELECT ${PERSON_COLUMNS} FROM person p WHERE p.name = $1`, [
      name,
    ]);
    return rows.map(toPerson)[0];
  }

  async list({ limit, cursor }: PageRequest): Promise<Page<Person>> {
    const [after] = fromCursor(cursor, 1) ?? [];
    const { rows } = await this.pool.query<PersonRow>(
      `SELECT ${PERSON_COLUMNS} FROM person p WHERE $1::text IS NULL OR p.name > $1 ORDER BY p.name LIMIT $2`,
      [after ?? null, limit + 1],
    );
    const items = rows.slice(0, limit).map(toPerson);
    const last = items.at(-1);
    return { items, next: last !== undefined && rows.length > limit ? toCursor([last.name]) : null };
  }

  async changes(name: string, { limit, cursor }: PageRequest): Promise<Page<PersonChange>> {
    const after = revisionIn(cursor);
    const { rows } = await this.pool.query<ChangeRow>(
      `SELECT person, revision, what, account, by, at FROM person_change WHERE person = $1 AND revision > $2
       ORDER BY revision LIMIT $3`,
      [name, after, limit + 1],
    );
    const items = rows.slice(0, limit).map((row) => ({ ...row, at: row.at.toISOString() }));
    const last = items.at(-1);
    return { items, next: last !== undefined && rows.length > limit ? toCursor([String(last.revision)]) : null };
  }
}

type ChangeRow = Omit<PersonChange, 'at'> & { readonly at: Date };

/** @throws RangeError where the cursor is not one of a list of changes. */
function revisionIn(cursor: string | null): number {
  const [revision = '0'] = fromCursor(cursor, 1) ?? [];
  if (/^\d{1,9}$/.test(revision)) return Number(revision);
  throw new RangeError('The cursor is not one that this list gave.');
}

async function lockPerson(client: pg.PoolClient, name: string): Promise<Person | undefined> {
  const { rows } = await client.query<PersonRow>(
    `SELECT ${PERSON_COLUMNS} FROM person p WHERE p.name = $1 FOR UPDATE`,
    [name],
  );
  return rows.map(toPerson)[0];
}

async function record(client: pg.PoolClient, change: PersonChange): Promise<void> {
  const { person, revision, what, account, by, at } = change;
  await client.query(
    `INSERT INTO person_change (person, revision, what, account, by, at) VALUES ($1, $2, $3, $4, $5, $6)`,
    [person, revision, what, JSON.stringify(account), by, at],
  );
}

async function endSessions(client: pg.PoolClient, name: string): Promise<void> {
  await client.query(`DELETE FROM person_session WHERE person = $1`, [name]);
}
