import { House, openHouse } from '../../apps/house/open-house.js';
import { serveHealth, WorkerHealth } from '../../apps/worker/serve-health.js';
import { FreshDatabase, freshDatabase } from '../support/fresh-database.js';
import { silentLog } from '../support/silent-log.js';
import { WireProxy } from './rig/wire-proxy.js';

/** A question may take a second; the rest is for a slow machine. */
const SOON_MS = 4_000;
/** Questions of all parts together: none is asked again while it waits. */
const MOST_QUESTIONS = 6;

let fresh: FreshDatabase;
let proxy: WireProxy;
let house: House;
let health: WorkerHealth;

beforeAll(async () => {
  fresh = await freshDatabase();
  const address = new URL(fresh.url);
  proxy = await WireProxy.open(Number(address.port));
  address.port = String(proxy.port);
  address.hostname = '127.0.0.1';
  house = await openHouse({ databaseUrl: address.href, redisUrl: undefined, log: silentLog });
  health = await serveHealth(house, { host: '127.0.0.1', port: 0 });
});

afterAll(async () => {
  proxy.mend();
  await health.close();
  await house.close();
  await proxy.close();
  await fresh.drop();
});

async function look(): Promise<string> {
  const began = performance.now();
  const text = await (await fetch(`${health.url}/metrics`)).text();
  expect(performance.now() - began).toBeLessThan(SOON_MS);
  return text;
}

function figure(text: string, name: string): number | undefined {
  const line = text.split('\n').find((one) => one.startsWith(`${name} `));
  return line === undefined ? undefined : Number(line.slice(name.length + 1));
}

const UP = 'heatbook_part_up{part="intake"}';

it('figures are given while the database says nothing, without those that come from it, and are whole again after', async () => {
  const before = await look();
  expect([figure(before, UP), figure(before, 'heatbook_part_up{part="queue"}')]).toEqual([1, 1]);
  expect(figure(before, 'heatbook_intake_pending')).toBe(0);
  // The questions of whoever looks are not told as waiting.
  expect(figure(before, 'heatbook_pool_waiting{pool="main"}')).toBe(0);

  proxy.silence();
  let away = before;
  // What was looked up before the wire went silent is told for some seconds more.
  while (figure(away, UP) === 1) away = await look();
  expect(figure(away, 'heatbook_intake_pending')).toBeUndefined();
  expect(figure(away, 'process_resident_memory_bytes')).toBeGreaterThan(0);
  for (let n = 0; n < 5; n += 1) away = await look();
  const questions = ['busy', 'waiting'].map((state) => figure(away, `heatbook_pool_${state}{pool="main"}`) ?? 0);
  const all = questions.reduce((sum, count) => sum + count);
  expect(all).toBeGreaterThan(0);
  expect(all).toBeLessThanOrEqual(MOST_QUESTIONS);

  proxy.mend();
  let after = away;
  while (figure(after, UP) !== 1) after = await look();
  expect(figure(after, 'heatbook_intake_pending')).toBe(0);
});
