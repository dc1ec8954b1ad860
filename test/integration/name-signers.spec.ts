import pg from 'pg';
import { DataSource, QueryRunner } from 'typeorm';
import { NameSigners1764420000000 } from '../../migrations/1764420000000-name-signers.js';
import { seal } from '../../libs/evidence/seal.js';
import { THE_HOUSE } from '../../libs/ledger/ports/customer-reads.js';
import { openDatabase } from '../../libs/postgres/open-database.js';
import { pgIdentity } from '../../libs/postgres/pg-identity.js';
import { PgLedgerSearch } from '../../libs/postgres/pg-ledger-search.js';
import { FreshDatabase } from '../support/fresh-database.js';
import { migratedDatabase } from '../support/migrated-database.js';
import { silentLog } from '../support/silent-log.js';

const AT = '2030-01-07T08:00:00.000Z';
const HASH = '$argon2id$v=19$m=19456,t=2,p=1$AAAA$AAAA';
const signed = (printedName: string, act: string) => ({ act, by: 'ann', printedName, meaning: 'checked', at: AT });
const signature = (printedName: string, act = 'x') => ({
  ...{ by: 'ann', printedName, at: AT, meaning: 'checked' },
  contentHash: seal.sha256Hex(seal.canonical(signed(printedName, act))),
});

/** A book from before there were commitments: Ann signed under two names, in a hold, a containment and a ledger. */
async function fillOldBook(runner: QueryRunner): Promise<void> {
  await runner.query(
    `INSERT INTO person (name, printed_name, roles, disabled, password_hash, revision, created_at, changed_at)
     VALUES ('ann', 'Ann "A" Smith', '{quality}', false, $1, 2, $2, $2)`,
    [HASH, AT],
  );
  for (const [revision, printedName] of [
    [1, 'Ann Miller'],
    [2, 'Ann "A" Smith'],
  ] as const) {
    const account = JSON.stringify({ printedName, roles: ['quality'], customer: null, disabled: false });
    await runner.query(
      `INSERT INTO person_change (person, revision, what, account, by, at) VALUES ('ann', $1, 'revised', $2, 'admin', $3)`,
      [revision, account, AT],
    );
  }
  const note = 'says "printedName": nothing';
  const dispositions = [{ id: 'd', decision: 'rework', note, signature: signature('Ann Miller') }];
  const release = { by: 'bob', note, signature: { ...signature('Ann "A" Smith'), by: 'bob' }, withoutCause: false };
  await runner.query(
    `INSERT INTO person (name, printed_name, roles, disabled, password_hash, revision, created_at, changed_at)
     VALUES ('bob', 'Bob', '{quality}', false, $1, 1, $2, $2)`,
    [HASH, AT],
  );
  await runner.query(
    `INSERT INTO hold (id, state, reason, subject, stream, raised_at, causes, evidence, remedy, touched, cause_gone,
       release, dispositions)
     VALUES (gen_random_uuid(), 'released', 'by-hand', '{}', 'X/1', $1, '[]', '{}', '', true, false, $2, $3)`,
    [AT, JSON.stringify(release), JSON.stringify(dispositions)],
  );
  const rounds = [
    { note, signed: signed('Ann Miller', 'contain'), signature: signature('Ann Miller', 'contain'), held: 1 },
  ];
  await runner.query(
    `INSERT INTO containment (id, cause, suspect_from, suspect_to, hold_cause, cause_holds, state, rounds, held, attempts,
       requested_at, seen_at)
     VALUES (gen_random_uuid(), '{}', '2030-01-01', '2030-02-01', false, '[]', 'done', $2, 1, 1, $1, $1)`,
    [AT, JSON.stringify(rounds)],
  );
  const data = { note, signed: signed('Ann Miller', 'dispose'), signature: signature('Ann Miller', 'dispose') };
  await runner.query(
    `INSERT INTO ledger_entry (subject, seq, hash, type, bytes, recorded_at)
     VALUES ('X/1', 1, $1, 'heatbook.hold.disposed.v1', $2, $3)`,
    ['ab'.repeat(32), JSON.stringify({ data }), AT],
  );
}

describe('moving printed names where they can be erased', () => {
  let fresh: FreshDatabase;
  let source: DataSource;
  let runner: QueryRunner;
  const migration = new NameSigners1764420000000();
  const printed = async (): Promise<Map<string, string | null>> => {
    const sql = `SELECT commitment, printed_name FROM person_name`;
    const rows = (await runner.query(sql)) as { commitment: string; printed_name: string | null }[];
    return new Map(rows.map((row) => [row.commitment, row.printed_name]));
  };

  beforeEach(async () => {
    fresh = await migratedDatabase();
    source = new DataSource({
      type: 'postgres',
      url: fresh.url,
      extra: { options: `-c heatbook.customer=${THE_HOUSE}` },
    });
    await source.initialize();
    runner = source.createQueryRunner();
    await migration.down(runner);
    await fillOldBook(runner);
    await runner.startTransaction();
    await migration.up(runner);
    await runner.commitTransaction();
  });

  afterEach(async () => {
    await runner.release();
    await source.destroy();
    await fresh.drop();
  });

  it('leaves each name in one place, and what was signed by commitment to the name of that time', async () => {
    const names = await printed();
    expect([...names.values()].sort()).toEqual(['Ann "A" Smith', 'Ann "A" Smith', 'Ann Miller', 'Bob']);
    const [hold] = (await runner.query(`SELECT release, dispositions FROM hold`)) as {
      release: { signature: { named: string } };
      dispositions: { note: string; signature: { named: string; contentHash: string } }[];
    }[];
    const [disposition] = hold?.dispositions ?? [];
    expect(names.get(disposition?.signature.named ?? '')).toBe('Ann Miller');
    expect(names.get(hold?.release.signature.named ?? '')).toBe('Ann "A" Smith');
    expect(disposition).toMatchObject({
      note: 'says "printedName": nothing',
      signature: { by: 'ann', contentHash: signature('Ann Miller').contentHash },
    });
    const rest = (await runner.query(
      `SELECT person_change.account::text || hold.release::text || hold.dispositions::text || containment.rounds::text AS all
       FROM person_change, hold, containment`,
    )) as unknown;
    expect(JSON.stringify(rest)).not.toMatch(/Miller|Smith/);
  });

  it('lets whoever puts the name back in what a containment signed come to its hash', async () => {
    const [containment] = (await runner.query(`SELECT rounds FROM containment`)) as {
      rounds: { signed: { named: string }; signature: { contentHash: string } }[];
    }[];
    const [round] = containment?.rounds ?? [];
    const { named = '', ...content } = round?.signed ?? {};
    const printedName = (await printed()).get(named);
    expect(seal.sha256Hex(seal.canonical({ ...content, printedName }))).toBe(round?.signature.contentHash);
  });

  it('keeps accounts as they were, with their record, and says what cannot be erased', async () => {
    const database = await openDatabase({ url: fresh.url, log: silentLog });
    try {
      const { people } = pgIdentity(database.pool);
      expect(await people.find('ann')).toMatchObject({ printedName: 'Ann "A" Smith', revision: 2, erasedAt: null });
      const { items } = await people.changes('ann', { limit: 10, cursor: null });
      expect(items.map(({ account }) => account.printedName)).toEqual(['Ann Miller', 'Ann "A" Smith']);
      expect(await new PgLedgerSearch(database.pool).signedInClear('ann')).toBe(1);
      await expect(database.pool.query(`UPDATE person_change SET by = 'x'`)).rejects.toThrow(pg.DatabaseError);
    } finally {
      await database.close();
    }
  });

  it('can be taken back and done again', async () => {
    await migration.down(runner);
    const people = (await runner.query(`SELECT name, printed_name FROM person ORDER BY name`)) as unknown;
    expect(people).toEqual([
      { name: 'ann', printed_name: 'Ann "A" Smith' },
      { name: 'bob', printed_name: 'Bob' },
    ]);
    await migration.up(runner);
    expect([...(await printed()).values()].sort()).toEqual(['Ann "A" Smith', 'Ann Miller', 'Bob']);
  });
});
