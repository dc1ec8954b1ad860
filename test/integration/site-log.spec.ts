import pg from 'pg';
import { DataSource } from 'typeorm';
import { KeepTheLog1764400000000 } from '../../migrations/1764400000000-keep-the-log.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { checkLog, checkLogWhenDue } from '../../libs/ledger/log/check-log.js';
import { isConsistent } from '../../libs/ledger/log/merkle/check-proofs.js';
import { fromHex } from '../../libs/ledger/log/notes/hex.js';
import { ReadLog } from '../../libs/ledger/log/read-log.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { takeCensus } from '../../libs/ledger/log/take-census.js';
import { LogLeaf } from '../../libs/ledger/ports/log-store.js';
import { Database, openDatabase } from '../../libs/postgres/open-database.js';
import { PgBookStore } from '../../libs/postgres/pg-book-store.js';
import { PgLogStore } from '../../libs/postgres/pg-log-store.js';
import { PgReadStore } from '../../libs/postgres/pg-read-store.js';
import { FreshDatabase } from '../support/fresh-database.js';
import { HandClock } from '../support/hand-clock.js';
import { addEntries, logDepsOf, readCheckpoint, signedCheckpoint } from '../support/log-bench.js';
import { logKeys } from '../../libs/ledger/log/log-keys.js';
import { migratedDatabase } from '../support/migrated-database.js';
import { silentLog } from '../support/silent-log.js';

const { sha256 } = nodeDigests;

describe('the site-wide log on Postgres', () => {
  const clock = new HandClock(Date.parse('2026-03-02T08:00:00Z'));
  let fresh: FreshDatabase;
  let database: Database;
  let deps: SiteLogDeps & { readonly errors: string[] };

  beforeEach(async () => {
    clock.ms = Date.parse('2026-03-02T08:00:00Z');
    fresh = await migratedDatabase();
    database = await openDatabase({ url: fresh.url, log: silentLog });
    deps = depsOn(database.pool);
  });
  afterEach(async () => {
    await database.close();
    await fresh.drop();
  });

  const depsOn = (pool: pg.Pool, more: Partial<SiteLogDeps> = {}): typeof deps =>
    logDepsOf(
      { deps: { store: new PgBookStore(pool), clock }, reads: new PgReadStore(pool), siteLog: new PgLogStore(pool) },
      more,
    );
  const allLeaves = (): Promise<readonly LogLeaf[]> => deps.siteLog.leaves(0, 100_000);
  /** Does what the service cannot, as whoever has the database in their hands. */
  const asOwner = async (...statements: readonly string[]): Promise<void> => {
    const client = new pg.Client({ connectionString: fresh.url });
    await client.connect();
    try {
      await client.query(`SET session_replication_role = replica`);
      for (const statement of statements) await client.query(statement);
    } finally {
      await client.end();
    }
  };

  it('loses nothing where the sequencer dies at any point, and gives no entry two places', async () => {
    await addEntries(deps, 'A/1', 3);
    await addEntries(deps, 'A/2');
    const dying = deps.siteLog.alone(async (tx) => {
      const [delivery] = await tx.waiting(1, 100);
      const leaves = (delivery?.entries ?? []).map((entry, index) => ({ ...entry, index }));
      await tx.append(leaves, [], [delivery?.number ?? '']);
      throw new Error('killed');
    });
    await expect(dying).rejects.toThrow('killed');
    expect(await deps.siteLog.size()).toBe(0);
    await database.close();
    database = await openDatabase({ url: fresh.url, log: silentLog });
    const { signer, signedBefore } = deps;
    deps = depsOn(database.pool, { signer, signedBefore });
    await sequenceLog(deps);
    expect((await allLeaves()).map(({ subject, seq }) => `${subject} ${seq}`)).toEqual([
      ...['A/1 1', 'A/1 2', 'A/1 3', 'A/2 1', '~book 1'],
    ]);
    expect((await signedCheckpoint(deps))?.size).toBe(5);
  });

  it('is one log, in the order of each ledger, however many write and sequence at once', async () => {
    await sequenceLog(deps);
    const sizes: number[] = [];
    let writing = true;
    const sequencer = async (): Promise<void> => {
      while (writing) {
        await sequenceLog(deps);
        sizes.push((await deps.siteLog.checkpoint())?.size ?? 0);
      }
    };
    const writer = async (n: number): Promise<void> => {
      for (let round = 0; round < 25; round += 1) await addEntries(deps, `A/${(n + round) % 3}`, 1 + (round % 4));
    };
    const sequencing = [sequencer(), sequencer(), sequencer()];
    await Promise.all([0, 1, 2, 3].map(writer));
    writing = false;
    await Promise.all(sequencing);
    await sequenceLog(deps);
    const leaves = await allLeaves();
    const seqs = new Map<string, number[]>();
    for (const { subject, seq } of leaves) seqs.set(subject, [...(seqs.get(subject) ?? []), seq]);
    for (const own of seqs.values()) expect(own).toEqual(own.map((_, n) => n + 1));
    expect(leaves.map(({ index }) => index)).toEqual(leaves.map((_, n) => n));
    const { rows } = await database.pool.query(`SELECT count(*)::integer AS entries FROM ledger_entry`);
    expect(rows).toEqual([{ entries: leaves.length }]);
    expect(await checkLog(deps)).toEqual([]);
    expect(new Set(sizes).size).toBeGreaterThan(2);
  }, 30_000);

  it('keeps every checkpoint, each a continuation of those before it', async () => {
    for (const count of [1, 7, 30, 2]) {
      await addEntries(deps, 'A/1', count);
      await sequenceLog(deps);
    }
    const { rows } = await database.pool.query<{ note: string }>(`SELECT note FROM log_checkpoint ORDER BY number`);
    const keys = await logKeys(deps.reads);
    const signed = await Promise.all(rows.map(({ note }) => readCheckpoint(note, keys)));
    expect(signed.map(({ size }) => size)).toEqual([2, 9, 39, 41]);
    const log = new ReadLog({ ...deps, queue: { add: () => Promise.resolve() } });
    const [last] = signed.slice(-1);
    for (const { size: from, root: fromRoot } of signed) {
      const { to, path } = await log.continue(from, 41);
      const steps = path.map((step) => fromHex(step, 32) ?? new Uint8Array(0));
      const toRoot = last?.root ?? new Uint8Array(0);
      expect(isConsistent(sha256, { from, to, fromRoot, toRoot, path: steps })).toBe(true);
    }
  });

  it('takes in what was in the book before there was a log, ledger by ledger in order', async () => {
    const source = new DataSource({ type: 'postgres', url: fresh.url, extra: { options: '-c heatbook.customer=*' } });
    await source.initialize();
    const runner = source.createQueryRunner();
    const migration = new KeepTheLog1764400000000();
    try {
      await migration.down(runner);
      await addEntries(deps, 'A/2', 600);
      clock.pass(1000);
      await addEntries(deps, 'A/1', 2);
      // Written by a worker whose clock is behind.
      clock.pass(-500);
      await addEntries(deps, 'A/1');
      await migration.up(runner);
    } finally {
      await runner.release();
      await source.destroy();
    }
    await addEntries(deps, 'A/3');
    await sequenceLog(deps);
    const leaves = (await allLeaves()).map(({ subject, seq }) => `${subject} ${seq}`);
    expect(leaves.slice(0, 600)).toEqual(Array.from({ length: 600 }, (_, n) => `A/2 ${n + 1}`));
    expect(leaves.slice(600)).toEqual(['A/1 1', 'A/1 2', 'A/1 3', 'A/3 1', '~book 1']);
  });

  it('cannot be written past the ledger, changed or shortened by the service’s role', async () => {
    await addEntries(deps, 'A/1');
    await sequenceLog(deps);
    for (const statement of [
      `INSERT INTO log_inbox (subjects, seqs, hashes) VALUES ('{A/9}', '{1}', '{00}')`,
      `UPDATE log_leaf SET seq = 9`,
      `DELETE FROM log_leaf`,
      `DELETE FROM log_checkpoint`,
      `UPDATE log_identity SET origin = 'x'`,
      `TRUNCATE log_node`,
      `SELECT tell_log()`,
    ]) {
      await expect(database.pool.query(statement)).rejects.toThrow(/permission denied|append-only/);
    }
    await expect(asOwner(`SET session_replication_role = origin`, `DELETE FROM log_leaf`)).rejects.toThrow(
      'append-only',
    );
  });

  it('goes on where an entry was taken out and written again, keeps the first, and names it', async () => {
    const rewrite = async (): Promise<void> => {
      await asOwner(`DELETE FROM ledger_entry WHERE subject = 'A/1'`, `DELETE FROM subject WHERE key = 'A/1'`);
      clock.pass(1000);
      await addEntries(deps, 'A/1');
    };
    await addEntries(deps, 'A/1');
    const { rows } = await database.pool.query<{ hash: string }>(`SELECT hash FROM ledger_entry`);
    await rewrite();
    await sequenceLog(deps);
    await rewrite();
    await sequenceLog(deps);
    expect((await allLeaves()).map(({ subject, hash }) => [subject, hash === rows[0]?.hash])).toEqual([
      ['A/1', true],
      ['~book', false],
    ]);
    expect(deps.errors).toHaveLength(2);
    expect(await checkLog(deps)).toEqual(['entry 1 of A/1 is another than the log has']);
  });

  it('notices a database that was put back, though it has grown again since', async () => {
    await addEntries(deps, 'A/1', 4);
    await sequenceLog(deps);
    const early = await deps.siteLog.size();
    await addEntries(deps, 'A/1', 4);
    await sequenceLog(deps);
    await asOwner(
      `DELETE FROM log_leaf WHERE index >= ${String(early)}`,
      `DELETE FROM log_checkpoint WHERE size > ${String(early)}`,
      `DELETE FROM ledger_entry WHERE subject = 'A/1' AND seq > 4`,
      `UPDATE subject SET head_seq = 4, head_hash = (SELECT hash FROM ledger_entry WHERE subject = 'A/1' AND seq = 4)
       WHERE key = 'A/1'`,
    );
    await sequenceLog(deps);
    expect(deps.errors).toEqual([expect.stringMatching(/put back or rewritten: it has 5 entries.*has 9.*rotate-key/)]);
    clock.pass(60_000);
    await addEntries(deps, 'A/1', 9);
    await sequenceLog(deps);
    expect(deps.errors).toHaveLength(2);
    expect(deps.errors[1]).toMatch(/its first 9 entries are others/);
    expect((await deps.siteLog.checkpoint())?.size).toBe(early);
    expect((await deps.siteLog.findings()).map(({ trouble }) => trouble)).toEqual([
      deps.errors[1]?.replace('The site-wide log: ', ''),
    ]);
  });

  describe('after a census', () => {
    beforeEach(async () => {
      for (const subject of ['A/1', 'A/2', 'B/1', 'devices/D']) await addEntries(deps, subject, 3);
      await sequenceLog(deps);
      clock.ms = Date.parse('2026-03-03T08:00:00Z');
      await takeCensus(deps);
      await sequenceLog(deps);
      expect(await checkLog(deps)).toEqual([]);
    });

    it.each<[string, readonly string[], RegExp]>([
      [
        'a tail that was cut',
        [`DELETE FROM ledger_entry WHERE subject = 'A/2' AND seq = 3`],
        /^entry 3 of A\/2 is gone/,
      ],
      [
        'an entry that was changed, with its hash',
        [`UPDATE ledger_entry SET hash = '${'ab'.repeat(32)}' WHERE subject = 'A/1' AND seq = 2`],
        /^entry 2 of A\/1 is another than the log has$/,
      ],
      [
        'an entry that was changed past its hash',
        [`UPDATE ledger_entry SET bytes = replace(bytes, '2026', '2025') WHERE subject = 'A/1' AND seq = 2`],
        /^entry 2 of A\/1 is another than the log has$/,
      ],
      [
        'an entry that was kept from the log',
        [
          `INSERT INTO ledger_entry SELECT * FROM json_populate_recordset(NULL::ledger_entry,
             (SELECT json_agg(to_jsonb(e) || '{"seq": 4}') FROM ledger_entry e WHERE subject = 'A/1' AND seq = 3))`,
          `DELETE FROM log_inbox`,
        ],
        /^entry 4 of A\/1 was kept from the log$/,
      ],
      [
        'a serial that is gone',
        [`DELETE FROM ledger_entry WHERE subject = 'B/1'`, `DELETE FROM subject WHERE key = 'B/1'`],
        /^entry 1 of B\/1 and 2 after it are gone from its ledger$/,
      ],
      [
        'a serial that is gone from the log as well',
        [`DELETE FROM ledger_entry WHERE subject = 'B/1'`, `DELETE FROM log_leaf WHERE subject = 'B/1'`],
        /^leaves 6 to 8 are gone from the log; .*checkpoint of size 14; the census of 2026-03-02 counted 1 ledgers with 3 entries in B, and the log has 0 with 0$/,
      ],
      [
        'a leaf that was changed along with its entry',
        [
          `UPDATE ledger_entry SET bytes = replace(bytes, '2026', '2025') WHERE subject = 'A/1' AND seq = 2`,
          `UPDATE ledger_entry SET hash = encode(sha256(convert_to(bytes, 'UTF8')), 'hex')
           WHERE subject = 'A/1' AND seq = 2`,
          `UPDATE log_leaf SET hash = (SELECT decode(hash, 'hex') FROM ledger_entry WHERE subject = 'A/1' AND seq = 2)
           WHERE subject = 'A/1' AND seq = 2`,
        ],
        /^the leaves do not give the root of the checkpoint of size 14$/,
      ],
    ])('finds and names %s', async (_what, statements, expected) => {
      await asOwner(...statements);
      expect((await checkLog(deps)).join('; ')).toMatch(expected);
      expect(deps.errors).toEqual([expect.stringContaining('compare it with a backup')]);
    });

    it('is looked at though the last time is said to be yet to come', async () => {
      await asOwner(
        `DELETE FROM ledger_entry WHERE subject = 'A/2'`,
        `UPDATE log_watch SET at = '2099-01-01T00:00:00Z'`,
      );
      await checkLogWhenDue(deps);
      expect(deps.errors).toHaveLength(1);
    });

    it('is looked at again a day later, and sooner while something is wrong', async () => {
      await asOwner(`DELETE FROM ledger_entry WHERE subject = 'A/2'`);
      await checkLogWhenDue(deps);
      expect(deps.errors).toEqual([]);
      clock.pass(86_400_000);
      await checkLogWhenDue(deps);
      clock.pass(599_999);
      await checkLogWhenDue(deps);
      expect(deps.errors).toHaveLength(1);
      clock.pass(1);
      await checkLogWhenDue(deps);
      expect(deps.errors).toHaveLength(2);
    });
  });
});
