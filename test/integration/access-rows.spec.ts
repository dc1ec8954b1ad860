import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { Database, migrate, openDatabase } from '../../libs/postgres/open-database.js';
import { PgCustomerReads } from '../../libs/postgres/pg-customer-reads.js';
import { PgReadStore } from '../../libs/postgres/pg-read-store.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { migratedDatabase } from '../support/migrated-database.js';
import { silentLog } from '../support/silent-log.js';

/** Tables that hold no customer's data. Every other one must be confined by row-level security. */
const WITHOUT_CUSTOMER_DATA = ['migrations'];
/** Two customers with a board each, and a device of each. */
const BOOK = [
  `INSERT INTO setup_revision (version, kind, name, revision, body, by) VALUES
     (1001, 'assembly', 'A-1', 1, '{"customer": "Alder"}', 'admin'),
     (1002, 'assembly', 'B-1', 1, '{"customer": "Birch"}', 'admin')`,
  `INSERT INTO subject (key, kind, assembly, serial, status, head_hash, state) VALUES
     ('A-1/1', 'unit', 'A-1', '1', 'in-house', '0', '{}'),
     ('B-1/1', 'unit', 'B-1', '1', 'in-house', '0', '{}'),
     ('devices/DA', 'device', 'A-1', '1', 'mounted', '0', '{}'),
     ('devices/DB', 'device', 'B-1', '1', 'mounted', '0', '{}'),
     ('devices/LOOSE', 'device', NULL, NULL, 'loose', '0', '{}')`,
  `INSERT INTO ledger_entry (subject, seq, hash, type, bytes, recorded_at)
   SELECT key, 1, 'h', 't', '{}', now() FROM subject`,
  `INSERT INTO hold (id, state, reason, subject, stream, unit_key, assembly, serial, raised_at, causes, evidence, remedy,
     touched, cause_gone)
   SELECT gen_random_uuid(), 'open', 'by-hand', '{}', 'A-1/1', key, assembly, serial, now(), '[]', '{}', '', false, false
   FROM subject`,
  `INSERT INTO intake_event (source, event_id, type, subject, content_hash, payload)
   SELECT '/stations/S', key, 't', key, 'h', '{}' FROM subject`,
  `INSERT INTO intake_pending (number, shard, subject) SELECT number, 0, subject FROM intake_event`,
  `INSERT INTO intake_parked (number, reason) SELECT number, '{}' FROM intake_event`,
  `INSERT INTO trace (name, content, content_hash, encoding, by, at)
   SELECT 'trace of ' || key, '', 'h', 'utf8', 'S', now() FROM subject`,
  `INSERT INTO trace_use (trace, subject) SELECT 'trace of ' || key, key FROM subject`,
];

/** Of each confined table that a customer may see into, what tells whose a row is. */
const SEEN_BY_ALDER: readonly (readonly [string, string, readonly string[]])[] = [
  ['subject', 'key', ['A-1/1', 'devices/DA']],
  ['ledger_entry', 'subject', ['A-1/1']],
  // The hold on the board, and the one that came to light on it.
  ['hold', 'unit_key', ['A-1/1', 'devices/DA']],
  ['intake_event', 'subject', ['A-1/1']],
  ['intake_pending', 'subject', ['A-1/1']],
  ['trace_use', 'subject', ['A-1/1']],
  ['trace', 'name', ['trace of A-1/1']],
  ['assembly_customer', 'customer', ['Alder']],
  ['intake_parked', '(SELECT subject FROM intake_event e WHERE e.number = intake_parked.number)', ['A-1/1']],
  ['setup_revision', 'name', []],
  ['access_key', 'name', []],
  ['access_record', 'subject', []],
];

describe('rows as the database shows them', () => {
  let fresh: FreshDatabase;
  let owner: pg.Client;
  /** Signed in as a role that is heatbook_app's and nothing else's. */
  let app: pg.Client;
  const login = `probe_${randomBytes(6).toString('hex')}`;

  const see = async (client: pg.ClientBase, customer: string | null): Promise<Record<string, unknown[]>> => {
    await client.query(customer === null ? 'RESET heatbook.customer' : `SET heatbook.customer = '${customer}'`);
    const seen: Record<string, unknown[]> = {};
    for (const [table, column] of SEEN_BY_ALDER) {
      const { rows } = await client.query<{ what: unknown }>(`SELECT ${column} AS what FROM ${table} ORDER BY 1`);
      seen[table] = rows.map(({ what }) => what);
    }
    return seen;
  };
  const nothing = Object.fromEntries(SEEN_BY_ALDER.map(([table]) => [table, []]));

  beforeAll(async () => {
    fresh = await migratedDatabase();
    owner = new pg.Client({ connectionString: fresh.url });
    await owner.connect();
    for (const statement of BOOK) await owner.query(statement);
    await owner.query(`CREATE ROLE ${login} LOGIN PASSWORD 'probe' IN ROLE heatbook_app`);
    const url = new URL(fresh.url);
    Object.assign(url, { username: login, password: 'probe' });
    app = new pg.Client({ connectionString: url.href });
    await app.connect();
  });

  afterAll(async () => {
    await app.end();
    await owner.query(`DROP ROLE ${login}`);
    await owner.end();
    await fresh.drop();
  });

  it('has every table either confined or known to hold no customer’s data', async () => {
    const { rows } = await owner.query<{ name: string; bound: boolean; policies: string[] }>(
      `SELECT c.relname AS name, c.relrowsecurity AND c.relforcerowsecurity AS bound,
         ARRAY(SELECT polname::text FROM pg_policy WHERE polrelid = c.oid ORDER BY polname) AS policies
       FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
       WHERE n.nspname = 'public' AND c.relkind IN ('r', 'p', 'm', 'f') ORDER BY c.relname`,
    );
    const open = rows.filter(({ bound, policies }) => !bound || !policies.includes('house')).map(({ name }) => name);
    expect(open).toEqual(WITHOUT_CUSTOMER_DATA);
    expect(rows.flatMap(({ policies }) => policies).filter((name) => name !== 'house' && name !== 'customer')).toEqual(
      [],
    );
    // A view would show what its owner sees.
    const views = await owner.query(`SELECT FROM pg_views WHERE schemaname = 'public'`);
    expect(views.rowCount).toBe(0);
  });

  it('shows nothing to a connection that names no customer, an empty one or one that nobody is', async () => {
    for (const customer of [null, '', 'Cedar', 'alder', ' Alder', '%', 'A-1']) {
      expect([customer, await see(app, customer)]).toEqual([customer, nothing]);
    }
  });

  it('shows a customer what is theirs in every table, and everything to the house', async () => {
    const expected = Object.fromEntries(SEEN_BY_ALDER.map(([table, , seen]) => [table, seen]));
    expect(await see(app, 'Alder')).toEqual(expected);
    const birch = await see(app, 'Birch');
    expect(JSON.stringify(birch)).not.toMatch(/A-1|DA|Alder|LOOSE/);
    expect(birch['subject']).toEqual(['B-1/1', 'devices/DB']);
    const house = await see(app, '*');
    expect(house['subject']).toEqual(['A-1/1', 'B-1/1', 'devices/DA', 'devices/DB', 'devices/LOOSE']);
    expect(house['setup_revision']).toEqual(expect.arrayContaining(['A-1', 'B-1']));
    expect(house['access_record']).toEqual(expect.arrayContaining(['assembly A-1', 'assembly B-1']));
  });

  it.each([
    [
      'a new row of their own',
      `INSERT INTO subject (key, kind, assembly, head_hash) VALUES ('A-1/2', 'unit', 'A-1', '0')`,
    ],
    ['a row for another', `INSERT INTO subject (key, kind, assembly, head_hash) VALUES ('B-1/2', 'unit', 'B-1', '0')`],
    ['an entry', `INSERT INTO ledger_entry VALUES ('A-1/1', 2, 'h', 't', NULL, NULL, '{}', now())`],
    [
      'a revision that would hand them an assembly',
      `INSERT INTO setup_revision (version, kind, name, revision, body, by)
       VALUES (2001, 'assembly', 'B-1', 2, '{"customer": "Alder"}', 'x')`,
    ],
    ['an assembly', `INSERT INTO assembly_customer VALUES ('C-1', 'Alder')`],
    ['an access record', `INSERT INTO access_record (at, kind, roles, outcome) VALUES (now(), 'refused', '{}', 'x')`],
  ])('lets a customer’s connection add nothing: %s', async (_what, statement) => {
    await app.query(`SET heatbook.customer = 'Alder'`);
    await expect(app.query(statement)).rejects.toThrow(/row-level security|permission denied/);
  });

  it('lets a customer’s connection change and remove nothing, not even what it sees', async () => {
    await app.query(`SET heatbook.customer = 'Alder'`);
    const changed = await app.query(`UPDATE subject SET assembly = 'A-1'`);
    const released = await app.query(`UPDATE hold SET state = 'released'`);
    const removed = await app.query(`DELETE FROM intake_pending`);
    expect([changed.rowCount, released.rowCount, removed.rowCount]).toEqual([0, 0, 0]);
    expect((await app.query(`SELECT FROM subject FOR UPDATE`)).rowCount).toBe(0);
    await expect(app.query(`UPDATE assembly_customer SET customer = 'Alder'`)).rejects.toThrow('permission denied');
  });

  it('does not let the role out of its policies by other ways than the setting', async () => {
    await app.query(`SET heatbook.customer = 'Alder'; SET row_security = off`);
    await expect(app.query(`SELECT FROM subject`)).rejects.toThrow('row-level security');
    await app.query(`SET row_security = on`);
    for (const attempt of [
      `SET ROLE postgres`,
      `SET SESSION AUTHORIZATION postgres`,
      `ALTER TABLE subject NO FORCE ROW LEVEL SECURITY`,
      `ALTER TABLE subject DISABLE ROW LEVEL SECURITY`,
      `DROP POLICY house ON subject`,
      `CREATE POLICY mine ON subject USING (true)`,
      `ALTER ROLE heatbook_app BYPASSRLS`,
      `SELECT confine_table('subject')`,
      `TRUNCATE subject`,
    ]) {
      await expect(app.query(attempt)).rejects.toThrow(/permission denied|must be|does not exist/);
    }
    const { rows } = await owner.query(
      `SELECT rolsuper, rolbypassrls, rolcanlogin FROM pg_roles WHERE rolname = 'heatbook_app'`,
    );
    expect(rows).toEqual([{ rolsuper: false, rolbypassrls: false, rolcanlogin: false }]);
  });

  it('follows an assembly to its next customer, and refuses names that are no customer’s', async () => {
    const revise = (version: number, customer: string): Promise<unknown> =>
      owner.query(
        `INSERT INTO setup_revision (version, kind, name, revision, body, by)
         VALUES ($1::integer, 'assembly', 'A-1', $1::integer, jsonb_build_object('customer', $2::text), 'admin')`,
        [version, customer],
      );
    await revise(3001, 'Birch');
    expect((await see(app, 'Alder'))['subject']).toEqual([]);
    expect((await see(app, 'Birch'))['subject']).toEqual(['A-1/1', 'B-1/1', 'devices/DA', 'devices/DB']);
    await revise(3002, 'Alder');
    expect((await see(app, 'Alder'))['subject']).toEqual(['A-1/1', 'devices/DA']);
    await expect(revise(3003, '*')).rejects.toThrow('assembly_customer');
    await expect(revise(3004, '')).rejects.toThrow('assembly_customer');
  });
});

describe('the service’s own connections', () => {
  const units = { limit: 10, cursor: null };
  let fresh: FreshDatabase;
  let database: Database;

  beforeAll(async () => {
    fresh = await migratedDatabase();
    database = await openDatabase({ url: fresh.url, log: silentLog });
    for (const statement of BOOK) await database.pool.query(statement);
  });

  afterAll(async () => {
    await database.close();
    await fresh.drop();
  });

  it('see everything where the house asks, and nothing where a customer’s read forgot to say whose', async () => {
    const subjects = `SELECT count(*)::integer AS seen FROM subject`;
    expect((await database.pool.query(subjects)).rows).toEqual([{ seen: 5 }]);
    expect(await database.dataSource.query(subjects)).toEqual([{ seen: 5 }]);
    expect((await database.customerPool.query(subjects)).rows).toEqual([{ seen: 0 }]);
    expect(database.confined).toBe(true);
  });

  it('forget a customer with the transaction, many at once and after errors', async () => {
    const reads = new PgCustomerReads(database.customerPool, true);
    const names = Array.from({ length: 40 }, (_, n) => (n % 2 === 0 ? 'Alder' : 'Birch'));
    const seen = await Promise.all(
      names.map(async (customer, n) => {
        if (n % 5 === 0) await expect(reads.of(customer).holds({ raisedFrom: 'never' }, units)).rejects.toThrow();
        return (await reads.of(customer).units({}, units)).items.map(({ customer: whose }) => whose);
      }),
    );
    expect(seen).toEqual(names.map((customer) => [customer]));
    const { rows } = await database.customerPool.query<{ seen: number }>(
      `SELECT count(*)::integer AS seen FROM subject`,
    );
    expect(rows).toEqual([{ seen: 0 }]);
  });

  it('show nothing to a customer who is called like the house or like nobody', async () => {
    const reads = new PgCustomerReads(database.customerPool, true);
    for (const name of ['*', '']) expect((await reads.of(name).units({}, units)).items).toEqual([]);
    await expect(reads.of('Alder').units({ customer: 'Birch' }, units)).resolves.toEqual({ items: [], next: null });
  });

  it('serve no customer under a role that the policies do not bind', async () => {
    expect(() => new PgCustomerReads(database.customerPool, false).of('Alder')).toThrow('row-level security');
    const login = `bypass_${randomBytes(6).toString('hex')}`;
    const errors: string[] = [];
    const url = new URL(fresh.url);
    Object.assign(url, { username: login, password: 'probe' });
    const owner = new pg.Client({ connectionString: fresh.url });
    await owner.connect();
    await owner.query(`CREATE ROLE ${login} LOGIN BYPASSRLS PASSWORD 'probe'`);
    const log = { ...silentLog, error: (message: string) => void errors.push(message) };
    const unbound = await openDatabase({ url: url.href, log });
    await unbound.close();
    await owner.query(`DROP ROLE ${login}`);
    await owner.end();
    expect(unbound.confined).toBe(false);
    expect(errors).toEqual([expect.stringContaining('customers are not served')]);
  });
});

describe('a database whose owner may not take the service’s role', () => {
  it('is migrated, worked with and confined all the same', async () => {
    const fresh = await freshDatabase();
    const login = `owner_${randomBytes(6).toString('hex')}`;
    const name = new URL(fresh.url).pathname.slice(1);
    const admin = new pg.Client({ connectionString: fresh.url });
    await admin.connect();
    await admin.query(`CREATE ROLE ${login} LOGIN PASSWORD 'probe'`);
    await admin.query(`ALTER DATABASE ${name} OWNER TO ${login}`);
    const url = new URL(fresh.url);
    Object.assign(url, { username: login, password: 'probe' });
    await migrate(url.href);
    const database = await openDatabase({ url: url.href, log: silentLog });
    try {
      for (const statement of BOOK) await database.pool.query(statement);
      const page = { limit: 10, cursor: null };
      expect(database.confined).toBe(true);
      expect((await new PgReadStore(database.pool).units({}, page)).items).toHaveLength(2);
      expect((await new PgReadStore(database.customerPool).units({}, page)).items).toEqual([]);
      const alder = new PgCustomerReads(database.customerPool, database.confined).of('Alder');
      expect((await alder.units({}, page)).items.map(({ assembly }) => assembly)).toEqual(['A-1']);
    } finally {
      await database.close();
      await admin.end();
      await fresh.drop();
      await dropRole(login);
    }
  });
});

/** On the server's own database: the one that the role owned is gone. */
async function dropRole(login: string): Promise<void> {
  const spare = await freshDatabase();
  const client = new pg.Client({ connectionString: spare.url });
  await client.connect();
  await client.query(`DROP ROLE ${login}`);
  await client.end();
  await spare.drop();
}
