import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  type Heat,
  KeyRefused,
  openStation,
  type Rejected,
  type Station,
  type StationOptions,
} from '../../libs/station-client/index.js';
import { runningHouse, RunningHouse } from '../support/running-house.js';
import { enterShop, SHOP } from '../support/small-shop.js';

const UNIT = `${SHOP.assembly}/C-1`;
const profile = { name: SHOP.profile, revision: 'A' };
const heating = { refdes: 'U7', purpose: 'touch-up', profile } as const;
const planned = { type: 'heatbook.site.heated.v1', ...heating } as const;

let house: RunningHouse;
let key: string;
let folder: string;
let station: Station | undefined;
const rejected: Rejected[] = [];

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  const { body } = await house.call('POST', `/v1/stations/${SHOP.bench}/keys`);
  key = String(body['key']);
});

afterAll(() => house.close());

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'heatbook-station-'));
  rejected.splice(0);
});

afterEach(async () => {
  await station?.close();
  await rm(folder, { recursive: true, force: true });
});

async function opened(options: Partial<StationOptions> = {}): Promise<Station> {
  station = await openStation({
    station: SHOP.bench,
    url: house.url,
    key,
    spool: folder,
    pace: { baseMs: 10, capMs: 50 },
    onRejected: (one) => rejected.push(one),
    ...options,
  });
  return station;
}

/** One that melts the joint, at this moment. */
function heatOf(bench: Station): Heat {
  const now = bench.now().toISOString();
  return { startedAt: now, endedAt: now, thermocouples: [{ id: 'T1', position: 'joint', peakC: 236 }] };
}

async function stateOf(id: string): Promise<unknown> {
  const query = new URLSearchParams({ source: `/stations/${SHOP.bench}`, id }).toString();
  return (await house.call('GET', `/v1/events?${query}`)).body['state'];
}

it('tells a step, and sends it again without doubling it', async () => {
  const bench = await opened();
  const event = await bench.tell('heatbook.unit.received.v1', UNIT, { workOrder: 'WO-7' });
  await bench.drain();
  await bench.post(event);
  await bench.drain();
  expect(bench.status()).toMatchObject({ accepted: 1, duplicates: 1, rejected: 0, pending: 0, lastError: null });
  expect(['pending', 'applied']).toContain(await stateOf(event.id));
});

it('reads its own writes at the gate: what was told just before stands against the plan', async () => {
  const bench = await opened();
  const ask = () => bench.clear({ assembly: SHOP.assembly, serial: 'C-2', operator: 'ann', steps: [planned] });
  await bench.tell('heatbook.unit.received.v1', `${SHOP.assembly}/C-2`, {
    priorReflows: 1,
    devices: [{ refdes: 'U7', priorExcursions: 2 }],
  });
  const first = await ask();
  if (first.verdict !== 'granted') throw new Error(JSON.stringify(first));
  expect(first.clearance.spends).toContainEqual(
    expect.objectContaining({ limit: 'device-excursions', used: 2, asked: 1 }),
  );

  await bench.tell('heatbook.site.heated.v1', `${SHOP.assembly}/C-2`, {
    ...heating,
    clearance: first.clearance.id,
    operator: 'ann',
    heat: heatOf(bench),
  });
  const second = await ask();
  if (second.verdict !== 'refused') throw new Error(JSON.stringify(second));
  expect(second.mayProceed).toBe(false);
  expect(second.reasons).toContainEqual(expect.objectContaining({ code: 'device-excursions', used: 3, allowed: 3 }));
});

it('gives back what it does not need, and is granted the same again', async () => {
  const bench = await opened();
  const request = { assembly: SHOP.assembly, serial: 'C-3', operator: 'ann', steps: [planned] };
  const answer = await bench.clear(request);
  if (answer.verdict !== 'granted') throw new Error(JSON.stringify(answer));
  await bench.giveBack(answer.clearance.id);
  await bench.giveBack(answer.clearance.id);
  expect((await house.call('GET', `/v1/clearances/${answer.clearance.id}`)).body['state']).toBe('returned');
});

it('sets aside what Heatbook turns away, with its own words', async () => {
  const bench = await opened({ check: false });
  const good = await bench.tell('heatbook.site.cleaned.v1', UNIT, { refdes: 'U7', agent: 'water' });
  await bench.post({ ...good, data: { refdes: 'U7', agent: 'solvent' } });
  await bench.post({ ...good, id: 'no-time', time: 'yesterday' });
  await bench.drain();
  expect(rejected.map(({ event, problem }) => [event['id'], problem.status])).toEqual([
    [good.id, 409],
    ['no-time', 422],
  ]);
  const lines = (await readFile(bench.setAsideFile, 'utf8')).trimEnd().split('\n');
  expect(JSON.parse(lines[1] ?? '')).toMatchObject({ problem: { errors: [{ pointer: '/time' }] } });
});

it('keeps what it has where the key is that of another station', async () => {
  await house.call('PUT', '/v1/stations/OTHER-1', { kind: 'oven' });
  const { body } = await house.call('POST', '/v1/stations/OTHER-1/keys');
  const wrong = await opened({ key: String(body['key']) });
  await wrong.tell('heatbook.site.cleaned.v1', UNIT, { refdes: 'U7', agent: 'water' });
  await expect(wrong.drain()).rejects.toThrow(KeyRefused);
  await wrong.close();
  const right = await opened();
  await right.drain();
  expect(right.status()).toMatchObject({ accepted: 1, rejected: 0 });
});

it('works on while nobody answers, by its policy, and delivers it later', async () => {
  const away = await opened({ url: 'http://127.0.0.1:1', whenUnreachable: 'proceed-uncleared' });
  const request = { assembly: SHOP.assembly, serial: 'C-4', operator: 'ann', steps: [planned] };
  const answer = await away.clear(request, { timeoutMs: 100 });
  expect(answer).toMatchObject({ verdict: 'unreachable', mayProceed: true, policy: 'proceed-uncleared' });
  const event = await away.tell('heatbook.site.heated.v1', `${SHOP.assembly}/C-4`, {
    ...heating,
    heat: heatOf(away),
  });
  expect(await away.clear(request, { timeoutMs: 100 })).toMatchObject({
    verdict: 'unreachable',
    error: { message: expect.stringContaining('What was told before') as string },
  });
  await away.close();
  const back = await opened();
  await back.drain();
  expect(['pending', 'applied']).toContain(await stateOf(event.id));
});

it('learns how far its clock is off, and tells so in what it has set right', async () => {
  const bench = await opened({ correctClock: true });
  const right = await bench.measureClock();
  expect(Math.abs(right.offsetMs)).toBeLessThanOrEqual(right.uncertaintyMs);
  expect(right.uncertaintyMs).toBeLessThan(400);
  const honest = await bench.tell('heatbook.site.cleaned.v1', UNIT, { refdes: 'U7', agent: 'water' });
  expect(honest).not.toHaveProperty('clockoffsetms');

  const now = Date.now.bind(Date);
  Date.now = () => now() - 3_600_000;
  try {
    const late = await bench.measureClock();
    expect(Math.abs(late.offsetMs - 3_600_000)).toBeLessThanOrEqual(late.uncertaintyMs);
    const mended = await bench.tell('heatbook.site.cleaned.v1', UNIT, { refdes: 'U7', agent: 'water' });
    expect(Math.abs(Date.parse(mended.time) - now())).toBeLessThan(late.uncertaintyMs + 1_000);
    expect(mended['clockoffsetms']).toBe(late.offsetMs);
    await bench.drain();
    expect(['pending', 'applied']).toContain(await stateOf(mended.id));
  } finally {
    Date.now = now;
  }
});
