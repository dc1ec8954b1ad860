import pg from 'pg';
import { AccountData } from '../ledger/identity/account.js';
import { countedAs } from '../ledger/identity/back-off.js';
import { accountOf, isSameAccess, isSameAccount } from '../ledger/identity/account-change.js';
import { NOBODYS_HASH } from '../ledger/identity/password-hash.js';
import { ErasureAct, Person, PersonChange, PersonErased, PersonStore, Stamp } from '../ledger/ports/person-store.js';
import { Page, PageRequest } from '../ledger/ports/read-store.js';
import { commitName, CommittedName } from '../ledger/signing/commit-name.js';
import { pseudonymOf } from '../ledger/signing/pseudonym.js';
import { fromCursor, toCursor } from './cursor.js';
import { inTransaction } from './in-transaction.js';
import { PEOPLE_NAMED, PERSON_COLUMNS, PersonRow, toPerson } from './person-row.js';

/** Accounts in Postgres. */
export class PgPersonStore implements PersonStore {
  constructor(private readonly pool: pg.Pool) {}

  add(name: string, account: AccountData, passwordHash: string, stamp: Stamp): Promise<boolean> {
    return inTransaction(this.pool, async (client) => {
      const { printedName, roles, customer, disabled } = account;
      const committed = commitName(name, printedName);
      const { rowCount } = await client.query(
        `INSERT INTO person (name, named, roles, customer, disabled, password_hash, revision, created_at, changed_at)
         VALUES ($1, $2, $3, $4, $5, $6, 1, $7, $7) ON CONFLICT (name) DO NOTHING`,
        [name, committed.commitment, roles, customer, disabled, passwordHash, stamp.at],
      );
      if (rowCount !== 1) return false;
      await keepName(client, committed, stamp);
      const known = { ...account, named: committed.commitment, erasedAt: null };
      await record(client, { person: name, revision: 1, what: 'created', account: known, act: null, ...stamp });
      return true;
    });
  }

  revise(name: string, account: AccountData, stamp: Stamp): Promise<Person | undefined> {
    return inTransaction(this.pool, async (client) => {
      const before = await lockPerson(client, name);
      refuseErased(before);
      if (before === undefined || isSameAccount(before, account)) return before;
      const { printedName, roles, customer, disabled } = account;
      const committed = before.printedName === printedName ? undefined : commitName(name, printedName);
      if (committed !== undefined) await keepName(client, committed, stamp);
      const named = committed?.commitment ?? before.named;
      const revision = before.revision + 1;
      await client.query(
        `UPDATE person SET named = $2, roles = $3, customer = $4, disabled = $5, revision = $6, changed_at = $7
         WHERE name = $1`,
        [name, named, roles, customer, disabled, revision, stamp.at],
      );
      const known = { ...account, named, erasedAt: null };
      await record(client, { person: name, revision, what: 'revised', account: known, act: null, ...stamp });
      if (!isSameAccess(before, account)) await endSessions(client, name);
      return { ...before, ...accountOf(account), named, revision, changedAt: stamp.at };
    });
  }

  setPassword(name: string, passwordHash: string, stamp: Stamp): Promise<boolean> {
    return inTransaction(this.pool, async (client) => {
      const before = await lockPerson(client, name);
      refuseErased(before);
      if (before === undefined) return false;
      const revision = before.revision + 1;
      await client.query(`UPDATE person SET password_hash = $2, revision = $3, changed_at = $4 WHERE name = $1`, [
        name,
        passwordHash,
        revision,
        stamp.at,
      ]);
      await record(client, { person: name, revision, what: 'password-changed', account: before, act: null, ...stamp });
      await endSessions(client, name);
      await forgetAttempts(client, name);
      return true;
    });
  }

  erase(name: string, act: ErasureAct, stamp: Stamp): Promise<Person | undefined> {
    return inTransaction(this.pool, async (client) => {
      const before = await lockPerson(client, name);
      if (before === undefined || before.erasedAt !== null) return before;
      await client.query(
        `UPDATE person_name SET printed_name = NULL, salt = NULL, erased_at = $2 WHERE name = $1 AND erased_at IS NULL`,
        [name, stamp.at],
      );
      const revision = before.revision + 1;
      await client.query(
        `UPDATE person SET disabled = true, password_hash = $2, revision = $3, changed_at = $4, erased_at = $4
         WHERE name = $1`,
        [name, NOBODYS_HASH, revision, stamp.at],
      );
      const account = { ...before, disabled: true, erasedAt: stamp.at };
      await record(client, { person: name, revision, what: 'erased', account, act, ...stamp });
      await endSessions(client, name);
      await forgetAttempts(client, name);
      const printedName = pseudonymOf(before.named);
      return { ...account, printedName, passwordHash: NOBODYS_HASH, revision, changedAt: stamp.at };
    });
  }

  async find(name: string): Promise<Person | undefined> {
    const { rows } = await this.pool.query<PersonRow>(
      `SELECT ${PERSON_COLUMNS} FROM ${PEOPLE_NAMED} WHERE p.name = $1`,
      [name],
    );
    return rows.map(toPerson)[0];
  }

  async list({ limit, cursor }: PageRequest): Promise<Page<Person>> {
    const [after] = fromCursor(cursor, 1) ?? [];
    const { rows } = await this.pool.query<PersonRow>(
      `SELECT ${PERSON_COLUMNS} FROM ${PEOPLE_NAMED} WHERE $1::text IS NULL OR p.name > $1 ORDER BY p.name LIMIT $2`,
      [after ?? null, limit + 1],
    );
    const items = rows.slice(0, limit).map(toPerson);
    const last = items.at(-1);
    return { items, next: last !== undefined && rows.length > limit ? toCursor([last.name]) : null };
  }

  async changes(name: string, { limit, cursor }: PageRequest): Promise<Page<PersonChange>> {
    const after = revisionIn(cursor);
    const { rows } = await this.pool.query<ChangeRow>(
      `SELECT c.person, c.revision, c.what, c.account, c.act, c.by, c.at, n.printed_name FROM person_change c
       LEFT JOIN person_name n ON n.commitment = c.account ->> 'named'
       WHERE c.person = $1 AND c.revision > $2 ORDER BY c.revision LIMIT $3`,
      [name, after, limit + 1],
    );
    const items = rows.slice(0, limit).map(toChange);
    const last = items.at(-1);
    return { items, next: last !== undefined && rows.length > limit ? toCursor([String(last.revision)]) : null };
  }
}

interface ChangeRow extends Omit<PersonChange, 'at' | 'account'> {
  readonly account: Omit<PersonChange['account'], 'printedName'>;
  readonly at: Date;
  readonly printed_name: string | null;
}

function toChange({ printed_name: printed, account, at, ...change }: ChangeRow): PersonChange {
  const printedName = printed ?? pseudonymOf(account.named);
  return { ...change, account: { ...account, printedName }, at: at.toISOString() };
}

function refuseErased(person: Person | undefined): void {
  if (person !== undefined && person.erasedAt !== null) throw new PersonErased(`the name of ${person.name} was erased`);
}

/** @throws RangeError where the cursor is not one of a list of changes. */
function revisionIn(cursor: string | null): number {
  const [revision = '0'] = fromCursor(cursor, 1) ?? [];
  if (/^\d{1,9}$/.test(revision)) return Number(revision);
  throw new RangeError('The cursor is not one that this list gave.');
}

async function lockPerson(client: pg.PoolClient, name: string): Promise<Person | undefined> {
  const { rows } = await client.query<PersonRow>(
    `SELECT ${PERSON_COLUMNS} FROM ${PEOPLE_NAMED} WHERE p.name = $1 FOR UPDATE OF p`,
    [name],
  );
  return rows.map(toPerson)[0];
}

async function keepName(client: pg.PoolClient, committed: CommittedName, { at }: Stamp): Promise<void> {
  const { commitment, name, printedName, salt } = committed;
  await client.query(
    `INSERT INTO person_name (commitment, name, printed_name, salt, since) VALUES ($1, $2, $3, $4, $5)`,
    [commitment, name, printedName, salt, at],
  );
}

/** Of the printed name the record has the commitment alone. */
async function record(client: pg.PoolClient, change: PersonChange): Promise<void> {
  const { person, revision, what, act, by, at } = change;
  const { roles, customer, disabled, named, erasedAt } = change.account;
  const account = { roles, customer, disabled, named, erasedAt };
  await client.query(
    `INSERT INTO person_change (person, revision, what, account, act, by, at) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
    [person, revision, what, JSON.stringify(account), act === null ? null : JSON.stringify(act), by, at],
  );
}

async function endSessions(client: pg.PoolClient, name: string): Promise<void> {
  await client.query(`DELETE FROM person_session WHERE person = $1`, [name]);
}

async function forgetAttempts(client: pg.PoolClient, name: string): Promise<void> {
  const counted = [countedAs(name, 'door'), countedAs(name, 'desk')];
  await client.query(`DELETE FROM password_attempt WHERE name = ANY($1)`, [counted]);
}
