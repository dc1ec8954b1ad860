import { readFile } from 'node:fs/promises';
import { jest } from '@jest/globals';
import { BadEvent, Closed, KeyRefused, NotDrained, StationError, Unreachable } from '../errors.js';
import { buildEvent } from '../events/build-event.js';
import { freshFolder, removeFolders } from '../spec-support/fresh-folder.js';
import { problem, StandIn } from '../spec-support/stand-in.js';
import { Rejected } from '../spool/set-aside.js';
import { openOutbox, Outbox } from './outbox.js';
import { OutboxOptions, Retrying } from './outbox-options.js';

let server: StandIn;
let outbox: Outbox | undefined;
const troubles: { readonly error: StationError; readonly retrying: Retrying }[] = [];

beforeEach(async () => {
  server = await StandIn.start();
  troubles.splice(0);
});

afterEach(async () => {
  await outbox?.close();
  await server.close();
  await removeFolders();
});

async function opened(options: Partial<OutboxOptions> = {}): Promise<Outbox> {
  outbox = await openOutbox({
    url: server.url,
    key: 'hbk_test',
    spool: options.spool ?? (await freshFolder()),
    pace: { baseMs: 5, capMs: 20 },
    onTrouble: (error, retrying) => troubles.push({ error, retrying }),
    ...options,
  });
  return outbox;
}

const cleaned = (id: string) =>
  buildEvent({
    type: 'heatbook.site.cleaned.v1',
    station: 'HOTGAS-1',
    subject: 'ZIB-PANEL-1/S1',
    data: { refdes: 'U1', agent: 'solvent' },
    id,
  });
const many = (count: number) => Array.from({ length: count }, (_, n) => cleaned(`e-${String(n)}`));
const ids = (count: number) => many(count).map(({ id }) => id);

it('delivers what is posted, in order and in batches, with the key of the moment', async () => {
  let key = 'hbk_old';
  const box = await opened({ key: () => Promise.resolve(key), batchEvents: 40 });
  await box.post(many(100));
  await box.drain();
  expect(server.accepted).toEqual(ids(100));
  expect(server.asked.map(({ body }) => (body as unknown[]).length)).toEqual([40, 40, 20]);
  expect(server.asked[0]).toMatchObject({
    method: 'POST',
    path: '/v1/events',
    headers: { authorization: 'Bearer hbk_old' },
  });
  key = 'hbk_new';
  await box.post(cleaned('last'));
  await box.drain();
  expect(server.asked.at(-1)?.headers.authorization).toBe('Bearer hbk_new');
  expect(box.status()).toMatchObject({ pending: 0, accepted: 101, lastError: null, oldestAgeMs: null });
});

it('sends the same again where no answer came, and takes a duplicate for delivered', async () => {
  const box = await opened();
  const noVerdicts = [
    { status: 202, body: 'done' },
    { status: 202, body: { items: [] } },
    { status: 200, body: {} },
  ];
  server.replies.push('cut', 'cut', { status: 500 }, ...noVerdicts);
  await box.post(many(3));
  await box.drain();
  expect(server.accepted).toEqual(ids(3));
  expect(server.asked).toHaveLength(7);
  expect(new Set(server.asked.map(({ body }) => JSON.stringify(body))).size).toBe(1);
  expect(box.status()).toMatchObject({ accepted: 0, duplicates: 3, lastError: null });
  expect(troubles.map(({ retrying }) => retrying.failures)).toEqual([1, 2, 3, 4, 5, 6]);
});

it('waits as long as it is asked to, whoever is in a hurry', async () => {
  const box = await opened();
  server.replies.push({ status: 503, headers: { 'retry-after': '1' }, body: problem('inbox-full', 503) });
  await box.post(many(1));
  const began = performance.now();
  await box.drain();
  expect(performance.now() - began).toBeGreaterThan(950);
  expect(server.asked).toHaveLength(2);
  expect(troubles[0]?.retrying.retryInMs).toBeGreaterThanOrEqual(1000);
});

it('sets aside what is turned away, tells of it, and goes on with the rest', async () => {
  const told: Rejected[] = [];
  const box = await opened({ onRejected: (rejected) => told.push(rejected) });
  server.rejects.set('e-1', problem('wrong-shape', 422));
  server.rejects.set('e-3', problem('event-conflict', 409));
  await box.post(many(5));
  await box.drain();
  expect(server.accepted).toEqual(['e-0', 'e-2', 'e-4']);
  expect(told.map(({ event }) => event['id'])).toEqual(['e-1', 'e-3']);
  const lines = (await readFile(box.setAsideFile, 'utf8')).trimEnd().split('\n');
  expect(lines.map((line) => JSON.parse(line) as unknown)).toMatchObject([
    { event: { id: 'e-1', subject: 'ZIB-PANEL-1/S1' }, problem: { status: 422 } },
    { event: { id: 'e-3' }, problem: { type: 'urn:heatbook:problem:event-conflict' } },
  ]);
  expect(box.status()).toMatchObject({ pending: 0, accepted: 3, rejected: 2, lastError: null });
});

it('finds the one event for which whole requests are turned away', async () => {
  const box = await opened();
  server.decide = ({ body }) =>
    JSON.stringify(body).includes('"e-37"') ? { status: 413, body: problem('too-large', 413) } : undefined;
  await box.post(many(60));
  await box.drain();
  expect(server.accepted).toEqual(ids(60).filter((id) => id !== 'e-37'));
  expect(box.status()).toMatchObject({ accepted: 59, rejected: 1, pending: 0 });
});

it.each([
  [401, 'key-required'],
  [403, 'not-allowed'],
])('keeps everything while the key is refused with %i, and says so', async (status, code) => {
  const box = await opened();
  server.decide = () => ({ status, body: problem(code, status, 'get another one') });
  await box.post(many(2));
  const refused = box.drain();
  await expect(refused).rejects.toThrow(KeyRefused);
  await expect(refused).rejects.toThrow(/get another one/);
  expect(box.status()).toMatchObject({ pending: 2, rejected: 0, lastError: { code: 'key-refused', status } });
  server.decide = () => undefined;
  await box.drain();
  expect(server.accepted).toEqual(ids(2));
});

it('takes it for a wrong key where it may not speak for its own station, and sets nothing aside', async () => {
  const box = await opened({ source: '/stations/HOTGAS-1' });
  server.rejects.set('e-1', problem('foreign-source', 403));
  await box.post(many(2));
  await expect(box.drain()).rejects.toThrow(KeyRefused);
  expect(box.status()).toMatchObject({ pending: 2, rejected: 0 });
});

it('takes an address that is not that of Heatbook for one that does not answer', async () => {
  const box = await opened();
  server.decide = () => ({ status: 404, body: { error: 'nothing here' } });
  await box.post(many(1));
  await expect(box.drain({ timeoutMs: 100 })).rejects.toThrow(/is the address right/);
  expect(box.status().lastError).toBeInstanceOf(Unreachable);
});

it('says what is left where the time is up, and delivers it when it is opened again', async () => {
  const spool = await freshFolder();
  const first = await opened({ spool, timeoutMs: 50 });
  server.decide = () => 'silence';
  await first.post(many(3));
  const late = first.drain({ timeoutMs: 150 });
  await expect(late).rejects.toThrow(NotDrained);
  await expect(late).rejects.toThrow(/^3 events still wait in the spool: .* no answer within 50 ms/);
  await first.close();
  expect(first.status().oldestAgeMs).toBeGreaterThanOrEqual(150);
  await expect(first.post(many(1))).rejects.toThrow(Closed);

  server.decide = () => undefined;
  await (await opened({ spool })).drain();
  expect(server.accepted).toEqual(ids(3));
});

it('refuses what has not the shape of its type, and keeps nothing of the call', async () => {
  const box = await opened();
  const wrong = { ...cleaned('e-1'), data: { refdes: 'U1' } };
  const refusal = box.post([cleaned('e-0'), wrong]);
  await expect(refusal).rejects.toThrow(BadEvent);
  await expect(refusal).rejects.toMatchObject({ index: 1, faults: [{ pointer: '/data/agent' }] });
  await box.drain();
  expect(server.asked).toEqual([]);
});

it('leaves the shape to Heatbook where it is told to', async () => {
  const box = await opened({ check: false });
  await box.post({ ...cleaned('e-0'), data: {} });
  await box.drain();
  expect(server.accepted).toEqual(['e-0']);
  await expect(box.post({ id: 'x' })).rejects.toThrow(/"source" is missing/);
});

it('goes on where a listener fails', async () => {
  const warned = jest.spyOn(process, 'emitWarning').mockImplementation(() => undefined);
  const box = await opened({
    onDelivered: () => {
      throw new Error('the lamp is broken');
    },
  });
  await box.post(many(1));
  await box.drain();
  expect(String(warned.mock.calls[0]?.[0])).toContain('the lamp is broken');
  warned.mockRestore();
  expect(box.status().pending).toBe(0);
});
