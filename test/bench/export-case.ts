import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { AUDIT_FORMAT_NAMES } from '../../libs/evidence/audit-formats.js';
import { startEmbeddedPostgres } from '../../libs/postgres/embedded/start-embedded-postgres.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { enterShop, events, SHOP } from '../support/small-shop.js';
import { BenchCase, BenchSize, Measure } from './bench-case.js';
import { elapsedMs } from './elapsed-ms.js';

const ENTRIES = 10_000;
const BATCH = 1_000;
const SERIAL = 'LONG-1';
const SUBJECT = `${SHOP.assembly}/${SERIAL}`;
const LOOK_EVERY_MS = 20;

/** Exports of one unit with a long history over HTTP, beside reading its rows in one go. */
export async function exportCase(_: BenchSize): Promise<BenchCase> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-bench-'));
  const server = await startEmbeddedPostgres({ folder: join(folder, 'postgres') });
  process.env['TEST_DATABASE_URL'] = server.url;
  const shop = await runningHouse();
  await enterShop(shop);
  await tellMuch(shop);
  const rows = new pg.Client({ connectionString: shop.databaseUrl });
  await rows.connect();
  const growth = new Map<string, number>();
  const exports = AUDIT_FORMAT_NAMES.map((format): Measure => ({
    name: `export-${format}`,
    unit: 'ms',
    take: () =>
      elapsedMs(async () => {
        growth.set(format, Math.max(growth.get(format) ?? 0, await grownDuring(() => read(shop, format))));
      }),
  }));
  const baseline: Measure = {
    name: 'rows-hashed',
    unit: 'ms',
    take: () =>
      elapsedMs(async () => {
        const { rows: entries } = await rows.query<{ bytes: string }>(
          'SELECT bytes FROM ledger_entry WHERE subject = $1 ORDER BY seq',
          [SUBJECT],
        );
        return createHash('sha256')
          .update(entries.map(({ bytes }) => bytes).join(','))
          .digest('hex');
      }),
  };
  return {
    title: 'export',
    what: `a unit of ${String(ENTRIES)} entries, from Postgres over HTTP`,
    measures: [...exports, baseline],
    ratios: exports.map(({ name }) => ({ name: `${name}/rows-hashed`, of: name, over: 'rows-hashed' })),
    rounds: 3,
    warmUps: 1,
    notes: () =>
      [...growth].map(([format, bytes]) => ({
        name: `${format}: growth of the memory of client and service, at most`,
        unit: 'MB',
        value: bytes / 1e6,
      })),
    close: async () => {
      await rows.end();
      await shop.close();
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

async function tellMuch(shop: RunningHouse): Promise<void> {
  for (let batch = 0; batch < ENTRIES / BATCH; batch += 1) {
    const said = Array.from({ length: BATCH }, (_, index) => {
      const minute = batch * BATCH + index;
      return { type: 'heatbook.site.cleaned.v1', data: { refdes: 'U7', agent: 'ipa' }, minute, id: `clean-${minute}` };
    });
    await shop.post(events(SERIAL, said));
  }
}

/** Reads an export to its end without keeping it. */
async function read(shop: RunningHouse, format: string): Promise<void> {
  const answer = await fetch(`${shop.url}/v1/units/${SUBJECT}/audit?format=${format}`, {
    headers: { authorization: `Bearer ${shop.adminKey}` },
  });
  if (!answer.ok || answer.body === null) throw new Error(`${format} answered ${answer.status}`);
  await answer.body.pipeTo(new WritableStream());
}

/** By how much the process grew at most while something was done, bytes of resident memory. */
async function grownDuring(work: () => Promise<void>): Promise<number> {
  const before = process.memoryUsage.rss();
  let most = before;
  const looking = setInterval(() => {
    most = Math.max(most, process.memoryUsage.rss());
  }, LOOK_EVERY_MS);
  try {
    await work();
  } finally {
    clearInterval(looking);
  }
  return most - before;
}
