import { execFile } from 'node:child_process';
import { chmod, mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { House, openHouse } from '../../apps/house/open-house.js';
import { newSigningKey } from '../../libs/evidence/log/node-signer.js';
import { installOwnKey, makeSigningKeyFile, ownSigningKey } from '../../apps/house/signing-key-file.js';
import { logKeys } from '../../libs/ledger/log/log-keys.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { addEntries, signedCheckpoint } from '../support/log-bench.js';
import { migratedDatabase } from '../support/migrated-database.js';
import { silentLog } from '../support/silent-log.js';
import { runnable } from '../support/test-environment.js';

interface Ended {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

describe('the signing key at the machine', () => {
  let folder: string;
  let fresh: FreshDatabase;
  const copies: FreshDatabase[] = [];
  const opened: House[] = [];

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'heatbook-keys-'));
    fresh = await migratedDatabase();
  });
  afterEach(async () => {
    await closeAll();
    for (const database of [fresh, ...copies.splice(0)]) await database.drop();
    await rm(folder, { recursive: true, force: true });
  });

  const inFolder = (name: string): string => join(folder, name);
  const closeAll = async (): Promise<void> => {
    for (const house of opened.splice(0)) await house.close();
  };
  const heatbook = (args: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<Ended> =>
    new Promise((resolve) => {
      const given = { PATH: process.env['PATH'], HEATBOOK_DATA: inFolder('data'), DATABASE_URL: fresh.url, ...env };
      execFile(process.execPath, [runnable('apps/cli/main.ts'), ...args], { env: given }, (error, out, err) => {
        resolve({ code: error === null ? 0 : Number(error.code), out, err });
      });
    });
  /** The house on a database, as a worker with that key has it. */
  const houseWith = async (keyFile: string, url = fresh.url): Promise<House> => {
    const signingKey = await readFile(inFolder(keyFile), 'utf8');
    const signedBeforeFolder = inFolder('data');
    const house = await openHouse({
      databaseUrl: url,
      redisUrl: undefined,
      log: silentLog,
      signingKey,
      signedBeforeFolder,
    });
    opened.push(house);
    return house;
  };
  const signWith = async (keyFile: string, entries: number, url = fresh.url): Promise<House> => {
    const house = await houseWith(keyFile, url);
    await addEntries(house.logDeps, 'A/1', entries);
    await sequenceLog(house.logDeps);
    return house;
  };

  it('is made in a file of its owner, and none is written over', async () => {
    const made = await heatbook(['signing-key', inFolder('one.pem')], { HEATBOOK_ORIGIN: 'rework.example/book' });
    expect(made).toMatchObject({ code: 0, err: '' });
    expect(made.out).toMatch(/rework\.example\/book\+[0-9a-f]{8}\+[A-Za-z0-9+/]{44}/);
    expect((await stat(inFolder('one.pem'))).mode & 0o777).toBe(0o600);
    const before = await readFile(inFolder('one.pem'), 'utf8');
    expect(made.out).not.toContain(before.split('\n')[1]);
    await expect(makeSigningKeyFile(inFolder('one.pem'))).rejects.toThrow(/is there already.*name another file/);
    expect(await readFile(inFolder('one.pem'), 'utf8')).toBe(before);
  }, 30_000);

  it('is made by itself in the data folder, once, where the house has its own database', async () => {
    const warnings: string[] = [];
    const own = (): Promise<string> => ownSigningKey(inFolder('data'), (line) => void warnings.push(line));
    const key = await own();
    expect(await own()).toBe(key);
    expect((await stat(inFolder('data/signing-key.pem'))).mode & 0o777).toBe(0o600);
    const kept = await installOwnKey(inFolder('data'), newSigningKey(), '0a1b2c3d');
    expect(await readFile(kept, 'utf8')).toBe(key);
    expect(await own()).not.toBe(key);
    expect((await stat(inFolder('data/signing-key.pem'))).mode & 0o777).toBe(0o600);
    expect(warnings).toEqual([]);
    // As a copy leaves it that keeps no modes.
    await chmod(inFolder('data/signing-key.pem'), 0o644);
    await own();
    expect(warnings).toEqual([expect.stringMatching(/signing-key\.pem can be read by everyone.*chmod 600/)]);
  });

  it('is followed by another with its word', async () => {
    for (const name of ['one.pem', 'two.pem']) await makeSigningKeyFile(inFolder(name));
    await signWith('one.pem', 2);
    await closeAll();
    const rotated = await heatbook(['rotate-key', '--key', inFolder('two.pem'), '--note', 'Yearly.'], {
      HEATBOOK_SIGNING_KEY_FILE: inFolder('one.pem'),
    });
    expect(rotated).toMatchObject({ code: 0, err: '' });
    const house = await signWith('two.pem', 1);
    const keys = await logKeys(house.reads);
    expect(keys.map(({ endorsement }) => endorsement === null)).toEqual([true, false]);
    expect(keys.at(-1)?.vkey).toBe(house.signer?.vkey);
    expect(await signedCheckpoint(house.logDeps)).toMatchObject({ size: 5 });
    expect(await house.ready()).toEqual({ ok: true, checks: { database: 'ok', log: 'ok' } });
  }, 30_000);

  it('notices a database that was restored, and a new one starts over with the break on record', async () => {
    for (const name of ['one.pem', 'two.pem']) await makeSigningKeyFile(inFolder(name));
    await signWith('one.pem', 2);
    await closeAll();
    const backup = await freshDatabase(new URL(fresh.url).pathname.slice(1));
    copies.push(backup);
    const last = await (await signWith('one.pem', 5)).siteLog.checkpoint();
    await closeAll();
    const restored = await signWith('one.pem', 9, backup.url);
    expect(await restored.ready()).toEqual({ ok: false, checks: { database: 'ok', log: 'failing' } });
    expect((await restored.siteLog.checkpoint())?.size).toBe(3);
    await closeAll();
    const started = await heatbook(['rotate-key', '--key', inFolder('two.pem'), '--note', 'Monday’s backup.'], {
      ...{ DATABASE_URL: backup.url, HEATBOOK_SIGNING_KEY_FILE: inFolder('one.pem') },
    });
    expect(started).toMatchObject({ code: 0, err: '' });
    expect(started.out).toContain('put back');
    const house = await signWith('two.pem', 1, backup.url);
    expect(await house.ready()).toEqual({ ok: true, checks: { database: 'ok', log: 'ok' } });
    const book = await house.reads.ledger('~book', { limit: 9, order: 'asc', afterSeq: null });
    expect(book.at(-1)?.data).toMatchObject({ note: 'Monday’s backup.', restored: { from: last?.note } });
    expect((await house.siteLog.checkpoint())?.size).toBe(14);
  }, 30_000);
});
