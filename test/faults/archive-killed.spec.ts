import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { serveApi } from '../../apps/api/serve-api.js';
import { House, openHouse } from '../../apps/house/open-house.js';
import { newSigningKey } from '../../libs/evidence/log/node-signer.js';
import { archiveBytes } from '../../libs/evidence/archive/archive-bytes.js';
import { unzipped } from '../../libs/evidence/spec-support/archive-bench.js';
import { ArchiveRecord } from '../../libs/ledger/archives/archive-record.js';
import { startArchive } from '../../libs/ledger/archives/start-archive.js';
import { foldShard } from '../../libs/ledger/fold/fold-shard.js';
import { newKey } from '../../libs/ledger/keys/new-key.js';
import { until } from '../../libs/postgres/embedded/processes.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { ProcessFamily } from '../support/process-family.js';
import { BookClient } from '../support/process-client.js';
import { silentLog } from '../support/silent-log.js';
import { enterShop, events, ordinaryJob, received, SHOP } from '../support/small-shop.js';

const UNITS = 60;
const PATIENCE_MS = 30_000;

const family = new ProcessFamily();
let fresh: FreshDatabase;
let house: House;
let folder: string;
let workerEnv: Record<string, string>;

beforeAll(async () => {
  fresh = await freshDatabase();
  folder = await mkdtemp(join(tmpdir(), 'heatbook-archive-'));
  const key = newSigningKey();
  workerEnv = { DATABASE_URL: fresh.url, HEATBOOK_DATA: folder, HEATBOOK_SIGNING_KEY: key };
  house = await openHouse({ databaseUrl: fresh.url, redisUrl: undefined, log: silentLog });
  await enterUnits();
}, 60_000);

afterAll(async () => {
  await family.endAll();
  await house.close();
  await fresh.drop();
  await rm(folder, { recursive: true, force: true });
});

/** Work on one board, and the arrival of others. */
async function enterUnits(): Promise<void> {
  const api = await serveApi(house, { host: '127.0.0.1', port: 0, adminKey: undefined });
  const { key, issued } = newKey(house.book, { role: 'admin', name: 'admin' });
  await house.keys.add(issued, 1);
  const send = async (method: string, path: string, body: unknown) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/json' };
    const response = await fetch(`${api.url}${path}`, { method, headers, body: JSON.stringify(body) });
    return { status: response.status, body: (await response.json()) as Record<string, unknown> };
  };
  await enterShop({ call: send });
  const serials = Array.from({ length: UNITS - 1 }, (_, n) => String(n + 2).padStart(4, '0'));
  await new BookClient(api.url, key).post([
    ...events('0001', ordinaryJob('D-1')),
    ...serials.flatMap((serial) => events(serial, [received()])),
  ]);
  for (const shard of await house.book.store.shardsDue()) await foldShard(house.book, shard);
  await api.close();
}

async function recordOf(id: string): Promise<ArchiveRecord> {
  const record = await house.archives.get(id);
  if (record === undefined) throw new Error('the archive is gone');
  return record;
}

/** As if all that happened to archives had happened a minute earlier. */
async function aMinutePasses(): Promise<void> {
  const client = new pg.Client({ connectionString: fresh.url });
  await client.connect();
  await client.query(`SET heatbook.customer = '*'`);
  await client.query(`UPDATE archive SET seen_at = seen_at - interval '1 minute'`);
  await client.end();
}

it('goes on after the last whole unit when its worker was killed, and has nothing twice', async () => {
  const { archives, book, reads } = house;
  const asked = await startArchive(
    { archives, reads, clock: book.clock, newId: () => book.newId() },
    {
      owner: { name: 'ann', via: 'session', customer: null },
      units: { assembly: SHOP.assembly },
      formats: ['csv'],
      since: [],
    },
  );
  if (typeof asked === 'string') throw new Error(asked);
  const first = family.start('apps/worker/main.ts', workerEnv);
  expect(await until(async () => (await recordOf(asked.id)).done >= 3, PATIENCE_MS)).toBe(true);
  expect(await first.end('SIGKILL')).toBe('SIGKILL');
  const killed = await recordOf(asked.id);
  expect(killed).toMatchObject({ state: 'running', wanted: UNITS, manifestHash: null });
  expect(killed.done).toBeLessThan(UNITS);

  await aMinutePasses();
  const second = family.start('apps/worker/main.ts', workerEnv);
  expect(await until(async () => (await recordOf(asked.id)).state === 'done', PATIENCE_MS)).toBe(true);
  await second.end('SIGTERM');
  const pieces: Uint8Array[] = [];
  for await (const piece of archiveBytes(archives, await recordOf(asked.id))) pieces.push(piece);
  const files = await unzipped(Buffer.concat(pieces));
  const { units } = JSON.parse(String(files.get('manifest.json'))) as { units: { serial: string; files: string[] }[] };
  expect(units.map(({ serial }) => serial)).toEqual(
    Array.from({ length: UNITS }, (_, n) => String(n + 1).padStart(4, '0')),
  );
  expect(units.flatMap(({ files: names }) => names).every((name) => files.has(name))).toBe(true);
  expect(files.has('manifest.jws')).toBe(true);
}, 90_000);
