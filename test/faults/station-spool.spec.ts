import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { Client } from 'pg';
import { SealedEntry } from '../../libs/ledger/ports/seal.js';
import { mulberry32 } from '../support/mulberry32.js';
import { ServiceBench } from '../support/process-bench.js';
import { chainFaults } from '../support/process-evidence.js';
import { FamilyMember, ProcessFamily } from '../support/process-family.js';
import { testRounds, testSeed } from '../support/process-seed.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';
import { houseCaller } from '../support/running-house.js';
import { enterShop, SHOP } from '../support/small-shop.js';
import { JournalEvent, readJournal } from './station/journal.js';

const SEED = testSeed();
/** Kills of the station. Two hundred: `npm run station-kills`. */
const ROUNDS = testRounds(8);
/** After the spool is open; some 20 events fit into it. */
const LONGEST_LIFE_MS = 500;
/** How long an api is up before it is killed. */
const API_UP_MS = 1_500;
/** So much is started at once here that a small machine takes its time. */
const START_MS = 90_000;
const ROUND_MS = 6_000;
const AT_ONCE = 8;

let folder: string;
let redis: FreshRedis;
let bench: ServiceBench;
const stations = new ProcessFamily();

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'heatbook-station-kills-'));
  redis = await freshRedisUrl();
  bench = await ServiceBench.open(redis.url);
});

afterAll(async () => {
  await stations.endAll();
  await bench.close();
  await redis.drop();
  await rm(folder, { recursive: true, force: true });
});

/** Kills the api and starts it again, over and over, until it is told to stop; then one is up. */
function killApis(first: FamilyMember, random: () => number): { stop: () => Promise<number> } {
  let api = first;
  let kills = 0;
  let isOver = false;
  const run = async (): Promise<void> => {
    while (!isOver) {
      await delay(random() * API_UP_MS);
      await api.end('SIGKILL');
      kills += 1;
      // A station that finds nobody there must spool all the same.
      await delay(random() * API_UP_MS);
      api = await bench.startApi(START_MS);
    }
  };
  const running = run();
  // What goes wrong is told by `stop`.
  running.catch(() => undefined);
  return {
    stop: async () => {
      isOver = true;
      await running;
      return kills;
    },
  };
}

/** The events of a station in the order in which they came in. The book is the same in any order, so it cannot tell. */
async function arrivals(source: string): Promise<string[]> {
  const client = new Client({ connectionString: bench.databaseUrl });
  await client.connect();
  try {
    const text = 'SELECT event_id FROM intake_event WHERE source = $1 ORDER BY number';
    const { rows } = await client.query<{ event_id: string }>(text, [source]);
    return rows.map(({ event_id: id }) => id);
  } finally {
    await client.end();
  }
}

/** What the ledgers tell of the events of a station, in the order of each ledger. */
async function toldBy(events: readonly JournalEvent[]): Promise<Map<string, string[]>> {
  const subjectOf = new Map(events.map(({ id, subject }) => [id, subject]));
  const keys = [...new Set(events.map(({ subject }) => subject))];
  const told = new Map<string, string[]>();
  for (let start = 0; start < keys.length; start += AT_ONCE) {
    const some = keys.slice(start, start + AT_ONCE).map(async (key) => {
      const path = key.startsWith('devices/') ? key : `units/${key}`;
      const entries = (await bench.client.list(`/v1/${path}/ledger?order=asc`)) as SealedEntry[];
      expect(chainFaults(key, entries)).toEqual([]);
      // A step on a board stands in the ledger of its device too; here each counts where it is to stand.
      const ids = entries.flatMap(({ event }) => (event === null ? [] : [event.id]));
      told.set(
        key,
        ids.filter((id) => (subjectOf.get(id) ?? key) === key),
      );
    });
    await Promise.all(some);
  }
  return told;
}

it(
  `has in the ledger what is in the list of a station that was killed ${String(ROUNDS)} times, once and in order (seed ${String(SEED)})`,
  async () => {
    const random = mulberry32(SEED);
    const api = await bench.startApi(START_MS);
    await bench.startWorker(START_MS);
    const call = houseCaller(bench.client.url, bench.adminKey);
    await enterShop({ call });
    const { body: issued } = await call('POST', `/v1/stations/${SHOP.bench}/keys`);
    const [spool, journal] = [join(folder, 'spool'), join(folder, 'journal')];
    const env = { HEATBOOK_URL: bench.client.url, HEATBOOK_KEY: String(issued['key']), SPOOL: spool, JOURNAL: journal };

    const killer = killApis(api, random);
    for (let kill = 0; kill < ROUNDS; kill += 1) {
      const station = stations.start('test/faults/station/spooling-station.ts', env);
      // One in five dies while it starts and reads what the one before has left.
      if (random() < 0.8) await station.printed('station is up', START_MS);
      await delay(random() * LONGEST_LIFE_MS);
      expect(await station.end('SIGKILL')).toBe('SIGKILL');
      expect(station.stderr()).toBe('');
    }
    const apiKills = await killer.stop();
    const last = stations.start('test/faults/station/spooling-station.ts', { ...env, FINISH: '1' });
    expect(await last.endsWithin(90_000)).toBe(0);
    expect(JSON.parse(last.stdout().split('\n')[1] ?? '')).toEqual({ pending: 0, rejected: 0, damaged: 0 });
    expect(existsSync(join(spool, 'set-aside.ndjson'))).toBe(false);
    await bench.client.settled(60_000);

    const { events, kept } = readJournal(journal);
    expect(kept).toBe(events.length);
    expect(events.length).toBeGreaterThan(ROUNDS);
    expect(await arrivals(`/stations/${SHOP.bench}`)).toEqual(events.map(({ id }) => id));
    const listed = new Map<string, string[]>();
    for (const { subject, id } of events) listed.set(subject, [...(listed.get(subject) ?? []), id]);
    expect(await toldBy(events)).toEqual(listed);
    const figures = { seed: SEED, kills: ROUNDS, apiKills, events: events.length, ledgers: listed.size };
    if (ROUNDS > 10) process.stdout.write(`${JSON.stringify(figures)}\n`);
  },
  180_000 + ROUNDS * ROUND_MS,
);
