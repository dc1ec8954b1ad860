import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Client, DatabaseError } from 'pg';
import { until } from '../../libs/postgres/embedded/processes.js';
import { freshDatabase } from '../support/fresh-database.js';
import { demoFacts } from '../support/process-bench.js';
import { BookClient } from '../support/process-client.js';
import { FamilyMember } from '../support/process-family.js';
import { addressOf, clientOf, keyOf, passwordOf, RunBench } from '../support/process-run.js';

const START_MS = 25_000;
const STOP_MS = 15_000;
const SETTLE_MS = 15_000;
/** How Postgres says that a table is not there (yet). */
const NO_SUCH_TABLE = '42P01';

let bench: RunBench;

beforeEach(async () => {
  bench = await RunBench.open();
});

afterEach(async () => {
  await bench.close();
});

function givenKey(run: FamilyMember): string {
  const key = keyOf(run);
  if (key === undefined) throw new Error(`no key in:\n${run.stdout()}`);
  return key;
}

function givenPassword(run: FamilyMember): string {
  const password = passwordOf(run);
  if (password === undefined) throw new Error(`no password in:\n${run.stdout()}`);
  return password;
}

/** @returns the status that signing in as admin is answered with. */
async function signIn(run: FamilyMember, password: string): Promise<number> {
  const { status } = await fetch(`${addressOf(run)}/v1/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ name: 'admin', password }),
  });
  return status;
}

async function interrupt(run: FamilyMember): Promise<void> {
  // Under npm a Ctrl-C arrives twice: from the terminal, and handed on by npm.
  process.kill(run.pid, 'SIGINT');
  process.kill(run.pid, 'SIGINT');
  expect(await run.endsWithin(STOP_MS)).toBe(0);
}

/** Whether the limit that the demo enters was held against what is in the house. */
async function isLimitRechecked(client: BookClient): Promise<boolean> {
  const limits = (await client.list('/v1/limits')) as readonly { readonly recheck: { readonly state: string } }[];
  return limits.some(({ recheck }) => recheck.state === 'done');
}

function countOf(text: string, part: RegExp): number {
  return text.match(part)?.length ?? 0;
}

describe('the first start, with the demo', () => {
  it('prints where it is, how to sign in and three lines to try, which work as printed, and loads the demo once', async () => {
    const run = await bench.startUp({ HEATBOOK_DEMO: '1' });
    const key = givenKey(run);
    expect(countOf(run.stdout(), /Heatbook is up at/g)).toBe(1);
    expect(countOf(run.stdout(), /HEATBOOK_KEY=/g)).toBe(1);
    expect(run.stdout()).toMatch(/^Open http:\S+ in a browser and sign in /m);
    expect(await signIn(run, givenPassword(run))).toBe(200);
    expect(run.stderr()).toBe('');

    const [holds = '', unit = '', audit = '', ...others] = run.stdout().match(/^ +curl .*$/gm) ?? [];
    expect(others).toEqual([]);
    expect(JSON.parse(await bench.shell(holds, key))).toMatchObject({ items: [{ state: 'open' }, {}, {}] });
    expect(JSON.parse(await bench.shell(unit, key))).toMatchObject({ sites: expect.any(Array) as unknown });
    // The shell throws where verify finds anything.
    expect(await bench.shell(audit, key)).not.toBe('');

    const client = clientOf(run, key);
    // Told by a timer within seconds of the start, and an entry more for a board of the demo.
    expect(await until(() => isLimitRechecked(client), SETTLE_MS)).toBe(true);
    const book = await client.list('/v1/units');
    expect(book.length).toBeGreaterThanOrEqual(40);
    await interrupt(run);
    const second = await bench.startUp({ HEATBOOK_DEMO: '1' });
    expect(second.stdout()).not.toContain('An invented shift was loaded');
    expect(await clientOf(second, key).list('/v1/units')).toEqual(book);
    await interrupt(second);
  }, 60_000);

  it('shows key and password at the next start where it was killed before it could', async () => {
    const database = await freshDatabase();
    try {
      const env = { DATABASE_URL: database.url, HEATBOOK_DEMO: '1' };
      const first = bench.start(env);
      expect(await until(() => holdsEvents(database.url), START_MS)).toBe(true);
      await first.end('SIGKILL');
      expect([keyOf(first), passwordOf(first)]).toEqual([undefined, undefined]);

      const second = await bench.startUp(env);
      const units = await clientOf(second, givenKey(second)).list('/v1/units');
      expect(units.length).toBeGreaterThan(0);
      expect(await signIn(second, givenPassword(second))).toBe(200);
      await interrupt(second);
    } finally {
      await bench.close();
      await database.drop();
    }
  }, 60_000);
});

/** Whether the demo has begun to come in. */
async function holdsEvents(databaseUrl: string): Promise<boolean> {
  const client = new Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    const { rowCount } = await client.query('SELECT FROM intake_event LIMIT 1');
    return rowCount === 1;
  } catch (error) {
    if (error instanceof DatabaseError && error.code === NO_SUCH_TABLE) return false;
    throw error;
  } finally {
    await client.end();
  }
}

describe('the first start, with an empty book', () => {
  it('prints three lines to try that find something', async () => {
    const run = await bench.startUp();
    const lines = run.stdout().match(/^ +curl .*$/gm) ?? [];
    expect(lines).toHaveLength(3);
    // With --fail an answer that is an error is an error of the line.
    for (const line of lines) await bench.shell(line.replace('curl', 'curl --fail'), givenKey(run));
    await interrupt(run);
  }, 60_000);
});

describe('a book that is kept', () => {
  /** Something for the book to keep: a unit that nobody has described, so that its event is parked. */
  const [fact] = demoFacts().filter(({ subject }) => subject.startsWith('ZIB-PANEL-1/'));

  async function enter(run: FamilyMember, key: string): Promise<unknown> {
    const client = clientOf(run, key);
    expect(await client.post([fact ?? {}])).toMatchObject({ status: 202, body: { accepted: 1 } });
    await client.settled(SETTLE_MS);
    return client.list('/v1/events/parked');
  }

  it('is there at the next start, and neither key nor password is printed again', async () => {
    const first = await bench.startUp();
    const [key, password] = [givenKey(first), givenPassword(first)];
    const parked = await enter(first, key);
    expect(parked).toHaveLength(1);
    await interrupt(first);

    const second = await bench.startUp();
    expect([keyOf(second), passwordOf(second)]).toEqual([undefined, undefined]);
    for (const secret of [key, password]) expect(second.stdout()).not.toContain(secret);
    expect(await signIn(second, password)).toBe(200);
    expect(await clientOf(second, key).list('/v1/events/parked')).toEqual(parked);
    await interrupt(second);
    expect(second.stderr()).toBe('');
  }, 60_000);

  it('lets the admin in with a new key and a new password where the first are lost', async () => {
    const first = await bench.startUp();
    const lost = givenKey(first);
    const lostPassword = givenPassword(first);
    const parked = await enter(first, lost);
    await interrupt(first);

    const key = (await bench.shell('npx heatbook admin-key', '')).trim();
    const password = (await bench.shell('npx heatbook admin-password', '')).trim();
    const second = await bench.startUp();
    expect(await clientOf(second, key).list('/v1/events/parked')).toEqual(parked);
    await expect(clientOf(second, lost).get('/v1/units')).rejects.toThrow('401');
    expect([await signIn(second, lostPassword), await signIn(second, password)]).toEqual([401, 200]);
    await interrupt(second);
  }, 60_000);

  it('shows the password where the admin key is given from outside', async () => {
    const run = await bench.startUp({ HEATBOOK_ADMIN_KEY: 'given-from-outside-and-long' });
    expect(keyOf(run)).toBeUndefined();
    expect(await signIn(run, givenPassword(run))).toBe(200);
    expect(await clientOf(run, 'given-from-outside-and-long').list('/v1/units')).toEqual([]);
    await interrupt(run);
  }, 60_000);

  it('is there after the process was killed, though its Postgres was left over', async () => {
    const first = await bench.startUp();
    const key = givenKey(first);
    const parked = await enter(first, key);
    expect(await first.end('SIGKILL')).toBe('SIGKILL');

    const second = await bench.startUp();
    expect(second.stderr()).toMatch(/^stopping a Postgres left over from a run that was killed \(process \d+\)\n$/);
    expect(await clientOf(second, key).list('/v1/events/parked')).toEqual(parked);
    await interrupt(second);
  }, 60_000);

  it('is not touched by a second process on the same folder, which says so in one line', async () => {
    const first = await bench.startUp();
    const second = bench.start();
    expect(await second.endsWithin(STOP_MS)).toBe(1);
    expect(second.stderr()).toMatch(new RegExp(`^[^\\n]*is in use by process ${first.pid}: [^\\n]*\\n$`));
    expect(await clientOf(first, givenKey(first)).isReady()).toBe(true);
    expect(addressOf(first)).toContain('127.0.0.1');
  }, 60_000);

  it('is refused in one line where Postgres cannot open it', async () => {
    await interrupt(await bench.startUp());
    await rm(join(bench.dataFolder, 'postgres', 'cluster', 'global', 'pg_control'));
    const second = bench.start();
    expect(await second.endsWithin(STOP_MS)).toBe(1);
    expect(second.stdout()).toBe('');
    expect(second.stderr()).toMatch(/^Postgres refuses to start in [^\n]*from a backup[^\n]*\n$/);
  }, 60_000);
});
