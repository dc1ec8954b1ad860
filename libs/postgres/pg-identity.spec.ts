import { seal } from '../evidence/seal.js';
import { checkPassword } from '../ledger/identity/check-password.js';
import { hashPassword } from '../ledger/identity/password-hash.js';
import { passwordGate } from '../ledger/identity/work-gate.js';
import { describeAttemptStore } from '../ledger/ports/attempt-store.contract.js';
import { IdentityUnderTest } from '../ledger/ports/identity.contract.js';
import { ANN, HASH, MADE } from '../ledger/ports/person-samples.contract.js';
import { describePersonNames } from '../ledger/ports/person-names.contract.js';
import { describePersonStore } from '../ledger/ports/person-store.contract.js';
import { describeSessionStore } from '../ledger/ports/session-store.contract.js';
import { FreshDatabase } from '../../test/support/fresh-database.js';
import { migratedDatabase } from '../../test/support/migrated-database.js';
import { silentLog } from '../../test/support/silent-log.js';
import { Database, openDatabase } from './open-database.js';
import { pgIdentity } from './pg-identity.js';

async function make(): Promise<IdentityUnderTest> {
  const fresh = await migratedDatabase();
  const database = await openDatabase({ url: fresh.url, log: silentLog });
  const close = async (): Promise<void> => {
    await database.close();
    await fresh.drop();
  };
  return { identity: pgIdentity(database.pool), close };
}

for (const describeStore of [describePersonStore, describeSessionStore, describeAttemptStore]) {
  describeStore('Postgres', make);
}
describePersonNames('Postgres', make, seal);

describe('people in Postgres', () => {
  let fresh: FreshDatabase;
  let databases: [Database, Database];

  beforeEach(async () => {
    fresh = await migratedDatabase();
    const open = (): Promise<Database> => openDatabase({ url: fresh.url, log: silentLog });
    databases = [await open(), await open()];
    await pgIdentity(databases[0].pool).people.add('ann', ANN, await hashPassword('a word long enough'), MADE);
  });

  afterEach(async () => {
    await Promise.all(databases.map((database) => database.close()));
    await fresh.drop();
  });

  it('are locked by two apis together, however they share the tries', async () => {
    const clock = { now: () => MADE.at };
    const desks = databases.map(({ pool }) => ({ ...pgIdentity(pool), clock, gate: passwordGate() }));
    const tries = Array.from({ length: 10 }, () => {
      return desks.map((desk) => checkPassword(desk, { name: 'ann', password: 'something else' }));
    });
    const kinds = (await Promise.all(tries.flat())).map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'wrong')).toHaveLength(5);
    for (const desk of desks) {
      const right = await checkPassword(desk, { name: 'ann', password: 'a word long enough' });
      expect(right).toEqual({ kind: 'locked', retryAfterSeconds: 1 });
    }
  });

  it('clear away failures that are forgotten as new ones come', async () => {
    const { attempts } = pgIdentity(databases[0].pool);
    const fail = (name: string, lastAt: string): Promise<void> =>
      attempts.inTurn(name, () => Promise.resolve({ keep: { failures: 1, lastAt }, result: undefined }));
    for (let n = 0; n < 5; n += 1) await fail(`guess-${n}`, MADE.at);
    await fail('ann', '2030-01-07T08:59:59.000Z');
    await fail('bob', '2030-01-07T09:00:00.000Z');
    const { rows } = await databases[0].pool.query('SELECT name FROM password_attempt ORDER BY name');
    expect(rows).toEqual([{ name: 'ann' }, { name: 'bob' }]);
  });

  it.each([
    `UPDATE person_change SET by = 'nobody'`,
    `DELETE FROM person_change`,
    `TRUNCATE person_change`,
    `DELETE FROM person`,
    `DELETE FROM person_name`,
    `TRUNCATE person_name CASCADE`,
    `UPDATE person_name SET printed_name = 'Ann Other'`,
    `UPDATE person_name SET name = 'bob'`,
    `UPDATE person_name SET erased_at = now()`,
    `INSERT INTO person_name SELECT 'ab', name, printed_name, salt, since FROM person_name`,
    `INSERT INTO person_change SELECT * FROM person_change`,
  ])('refuse to have their record rewritten: %s', async (statement) => {
    await expect(databases[0].pool.query(statement)).rejects.toThrow();
  });

  it.each([
    ['both a customer and of the house', ['customer', 'quality'], 'Thimblewick'],
    ['a customer of nobody', ['customer'], null],
    ['of the house and of a customer', ['quality'], 'Thimblewick'],
    ['a station', ['station'], null],
    ['nothing', [], null],
  ])('refuse one who is %s', async (_what, roles, customer) => {
    const insert = databases[0].pool.query(
      `INSERT INTO person (name, named, roles, customer, disabled, password_hash, revision, created_at, changed_at)
       VALUES ('bob', '', $1, $2, false, $3, 1, now(), now())`,
      [roles, customer, HASH],
    );
    await expect(insert).rejects.toThrow(/check constraint/);
  });
});
