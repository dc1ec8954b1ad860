import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { harnessOn } from '../support/book-harness.js';
import { makeEventful } from '../support/eventful-book.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { HandClock } from '../support/hand-clock.js';
import { migratedDatabase } from '../support/migrated-database.js';
import { ProcessFamily } from '../support/process-family.js';

const END_MS = 20_000;
const family = new ProcessFamily();
let book: FreshDatabase;

beforeAll(async () => {
  book = await migratedDatabase();
  const clock = new HandClock(Date.UTC(2026, 3, 1, 8));
  const harness = await harnessOn(book.url, clock);
  await makeEventful(harness, clock);
  await harness.close();
}, 60_000);

afterAll(async () => {
  await family.endAll();
  await book.drop();
});

async function recount(
  env: Readonly<Record<string, string>>,
  ...args: string[]
): Promise<{ readonly code: unknown; readonly out: string; readonly err: string }> {
  const member = family.start('apps/cli/main.ts', env, ['recount', ...args]);
  const code = await member.endsWithin(END_MS);
  return { code, out: member.stdout(), err: member.stderr() };
}

it('says how much it went through where nothing differs, and ends with 0', async () => {
  const { code, out, err } = await recount({ DATABASE_URL: book.url });
  expect(out).toMatch(
    /^Recounted \d+ entries of \d+ ledgers \(.* accepted events, .*\) in .* s, \d+ entries\/s\.\nNothing differs\.\n$/,
  );
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const json = await recount({ DATABASE_URL: book.url }, '--json');
  expect(JSON.parse(json.out)).toMatchObject({
    differences: [],
    count: 0,
    counts: { leaves: expect.any(Number) as number },
  });
  expect(json.code).toBe(0);
});

it('names each difference in one line, and ends with 1', async () => {
  const copy = await freshDatabase(new URL(book.url).pathname.slice(1));
  const client = new pg.Client({ connectionString: copy.url });
  await client.connect();
  await client.query(`UPDATE subject SET head_seq = head_seq + 1 WHERE key IN ('PAIR/1', 'PAIR/2')`);
  await client.end();
  try {
    const { code, out } = await recount({ DATABASE_URL: copy.url });
    const lines = out.trimEnd().split('\n');
    expect(lines.slice(0, 2)).toEqual([
      expect.stringMatching(/^PAIR\/1: head of the ledger: kept \d+ [0-9a-f]{64}; recomputed \d+ [0-9a-f]{64}$/),
      expect.stringMatching(/^PAIR\/2: head of the ledger: kept /),
    ]);
    expect(lines.slice(3)).toEqual(['Differences: 2.']);
    expect(code).toBe(1);
    const json = await recount({ DATABASE_URL: copy.url }, '--json');
    expect(JSON.parse(json.out)).toMatchObject({
      differences: [{ subject: 'PAIR/1', what: 'head of the ledger' }, { subject: 'PAIR/2' }],
      count: 2,
    });
    expect(json.code).toBe(1);
  } finally {
    await copy.drop();
  }
});

it('ends with 2 where there is no book, and makes none', async () => {
  const empty = await freshDatabase();
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-recount-'));
  try {
    const { code, err } = await recount({ DATABASE_URL: empty.url });
    expect({ code, err }).toEqual({
      code: 2,
      err: 'The book could not be gone through: This database has no book in it.\n',
    });
    const nowhere = await recount({ HEATBOOK_DATA: join(folder, 'data') });
    expect(nowhere.code).toBe(2);
    expect(nowhere.err).toContain('has no book in it: set HEATBOOK_DATA or DATABASE_URL.');
    const again = await recount({ HEATBOOK_DATA: join(folder, 'data') });
    expect(again.err).toBe(nowhere.err);
  } finally {
    await empty.drop();
    await rm(folder, { recursive: true, force: true });
  }
});
