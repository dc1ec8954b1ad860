import { createHash, randomBytes } from 'node:crypto';
import { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Moves printed names into one table that can forget them. Signatures and the record of accounts hold a commitment in their
 * place, wherever they may be changed; entries of ledgers stay as they were hashed.
 */
export class NameSigners1764420000000 implements MigrationInterface {
  readonly name = 'NameSigners1764420000000';

  async up(queries: QueryRunner): Promise<void> {
    for (const statement of TABLES) await queries.query(statement);
    const names = new Names(queries);
    await nameAccounts(queries, names);
    await nameHolds(queries, names);
    await nameContainments(queries, names);
    for (const statement of CLOSING) await queries.query(statement);
  }

  /** Gives the table back its column; signatures keep their commitments, which nothing opens any more. */
  async down(queries: QueryRunner): Promise<void> {
    await queries.query(`ALTER TABLE person ADD COLUMN printed_name text`);
    await queries.query(
      `UPDATE person SET printed_name = coalesce(
         (SELECT printed_name FROM person_name WHERE commitment = named), 'erased-' || left(named, 8))`,
    );
    await queries.query(`ALTER TABLE person ALTER COLUMN printed_name SET NOT NULL`);
    await queries.query(`ALTER TABLE person DROP COLUMN named, DROP COLUMN erased_at`);
    await queries.query(`ALTER TABLE person_change DISABLE TRIGGER person_change_append_only`);
    await queries.query(
      `UPDATE person_change SET account = (account::jsonb || jsonb_build_object('printedName', coalesce(
         (SELECT printed_name FROM person_name WHERE commitment = account ->> 'named'),
         'erased-' || left(account ->> 'named', 8))))::json`,
    );
    await queries.query(`ALTER TABLE person_change ENABLE TRIGGER person_change_append_only`);
    await queries.query(`ALTER TABLE person_change DROP COLUMN act`);
    await queries.query(`DROP TABLE person_name`);
    await queries.query(`DROP FUNCTION keep_name_until_erased`);
  }
}

const TABLES = [
  `CREATE TABLE person_name (
     commitment text PRIMARY KEY CHECK (commitment ~ '^[0-9a-f]{64}$'),
     name text COLLATE "C" NOT NULL REFERENCES person,
     printed_name text,
     salt text CHECK (salt ~ '^[0-9a-f]{64}$'),
     since timestamptz NOT NULL,
     erased_at timestamptz,
     CHECK ((printed_name IS NULL) = (salt IS NULL) AND (printed_name IS NULL) = (erased_at IS NOT NULL))
   )`,
  `CREATE INDEX person_name_by_account ON person_name (name)`,
  `ALTER TABLE person ADD COLUMN named text, ADD COLUMN erased_at timestamptz`,
  `ALTER TABLE person_change ADD COLUMN act json`,
  `SELECT confine_table('person_name')`,
];

const CLOSING = [
  // Deferred, since either names the other.
  `ALTER TABLE person ALTER COLUMN named SET NOT NULL,
     ADD CONSTRAINT person_is_named FOREIGN KEY (named) REFERENCES person_name DEFERRABLE INITIALLY DEFERRED,
     DROP COLUMN printed_name`,
  // A name is set once and may only go: nothing that was committed to may become another, and nothing erased come back.
  `CREATE FUNCTION keep_name_until_erased() RETURNS trigger LANGUAGE plpgsql AS $$
   BEGIN
     IF OLD.erased_at IS NULL AND NEW.erased_at IS NOT NULL AND NEW.printed_name IS NULL AND NEW.salt IS NULL
       AND (NEW.commitment, NEW.name, NEW.since) = (OLD.commitment, OLD.name, OLD.since) THEN RETURN NEW; END IF;
     RAISE EXCEPTION 'a printed name can only be erased, once; a new name is a new row';
   END $$`,
  `CREATE TRIGGER person_name_stays_until_erased BEFORE UPDATE ON person_name
   FOR EACH ROW EXECUTE FUNCTION keep_name_until_erased()`,
  `CREATE TRIGGER person_name_stays BEFORE DELETE OR TRUNCATE ON person_name
   FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()`,
  `DO $$ BEGIN
     IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'heatbook_app') THEN
       GRANT SELECT, INSERT, UPDATE (printed_name, salt, erased_at) ON person_name TO heatbook_app;
     END IF;
   END $$`,
];

/** Rows that are rewritten at once. */
const BATCH = 500;

/** Gives out one commitment for each printed name of an account. */
class Names {
  private readonly known = new Map<string, string>();

  constructor(private readonly queries: QueryRunner) {}

  async commitmentTo(name: string, printedName: string, since: Date | string): Promise<string> {
    const key = JSON.stringify([name, printedName]);
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const salt = randomBytes(32).toString('hex');
    // This is its canonical form (RFC 8785): three texts in the order of their keys.
    const commitment = createHash('sha256').update(JSON.stringify({ name, printedName, salt })).digest('hex');
    await this.queries.query(
      `INSERT INTO person_name (commitment, name, printed_name, salt, since) VALUES ($1, $2, $3, $4, $5)`,
      [commitment, name, printedName, salt, since],
    );
    this.known.set(key, commitment);
    return commitment;
  }

  /** The same value, with `named` in place of `printedName` in every signature within. */
  async named(value: unknown): Promise<unknown> {
    if (Array.isArray(value)) {
      const items: unknown[] = [];
      for (const item of value) items.push(await this.named(item));
      return items;
    }
    if (typeof value !== 'object' || value === null) return value;
    const result: Record<string, unknown> = {};
    for (const [key, member] of Object.entries(value)) result[key] = await this.named(member);
    const { by, printedName, at } = result;
    if (typeof by !== 'string' || typeof printedName !== 'string' || typeof at !== 'string') return result;
    delete result['printedName'];
    return { ...result, named: await this.commitmentTo(by, printedName, at) };
  }
}

async function nameAccounts(queries: QueryRunner, names: Names): Promise<void> {
  type Change = { person: string; revision: number; account: Record<string, unknown>; at: Date };
  const changes = (await queries.query(
    `SELECT person, revision, account, at FROM person_change ORDER BY person, revision`,
  )) as Change[];
  await queries.query(`ALTER TABLE person_change DISABLE TRIGGER person_change_append_only`);
  for (const { person, revision, account, at } of changes) {
    const { printedName, ...rest } = account;
    const named = await names.commitmentTo(person, String(printedName), at);
    await queries.query(`UPDATE person_change SET account = $3 WHERE person = $1 AND revision = $2`, [
      person,
      revision,
      JSON.stringify({ ...rest, named, erasedAt: null }),
    ]);
  }
  await queries.query(`ALTER TABLE person_change ENABLE TRIGGER person_change_append_only`);
  type Account = { name: string; printed_name: string; created_at: Date };
  const people = (await queries.query(`SELECT name, printed_name, created_at FROM person`)) as Account[];
  for (const { name, printed_name: printedName, created_at: since } of people) {
    const named = await names.commitmentTo(name, printedName, since);
    await queries.query(`UPDATE person SET named = $2 WHERE name = $1`, [name, named]);
  }
}

/** What a hold's signatures are under stands in its ledger; beside them only who signed is kept. */
async function nameHolds(queries: QueryRunner, names: Names): Promise<void> {
  type Hold = { id: string; release: unknown; dispositions: unknown };
  let after = '00000000-0000-0000-0000-000000000000';
  for (;;) {
    const holds = (await queries.query(
      `SELECT id, release, dispositions FROM hold WHERE id > $1
         AND (release::text LIKE '%"printedName"%' OR dispositions::text LIKE '%"printedName"%')
       ORDER BY id LIMIT ${String(BATCH)}`,
      [after],
    )) as Hold[];
    for (const { id, release, dispositions } of holds) {
      await queries.query(`UPDATE hold SET release = $2, dispositions = $3 WHERE id = $1`, [
        id,
        release === null ? null : JSON.stringify(await names.named(release)),
        JSON.stringify(await names.named(dispositions)),
      ]);
      after = id;
    }
    if (holds.length < BATCH) return;
  }
}

/**
 * A containment keeps what was signed. Its hash is over the printed name: whoever puts that back in place of the commitment,
 * which opens to it, comes to the hash; once the name is erased, nobody does.
 */
async function nameContainments(queries: QueryRunner, names: Names): Promise<void> {
  type Containment = { id: string; rounds: unknown };
  const containments = (await queries.query(
    `SELECT id, rounds FROM containment WHERE rounds::text LIKE '%"printedName"%'`,
  )) as Containment[];
  for (const { id, rounds } of containments) {
    await queries.query(`UPDATE containment SET rounds = $2 WHERE id = $1`, [
      id,
      JSON.stringify(await names.named(rounds)),
    ]);
  }
}
