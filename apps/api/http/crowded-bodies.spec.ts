import { once } from 'node:events';
import { Socket } from 'node:net';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { bareAnswer, openSocket } from '../../../test/support/bare-connection.js';
import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, sampleEvent } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';
import { SERVER_LIMITS } from './server-limits.js';

const IN_ALL = 300_000;
const OF_ONE = 100_000;
const PATIENCE_MS = 10_000;

/** The room is small here, so that few bodies fill it. */
describe('bodies that come faster than they are worked on', () => {
  let api: SpecApi;
  let sockets: Socket[];

  beforeEach(async () => {
    sockets = [];
    api = await startApi({ limits: { ...SERVER_LIMITS, bulkBodies: { inAll: IN_ALL, ofOne: OF_ONE } } });
    await enterSampleSetup(api);
  });

  afterEach(async () => {
    for (const socket of sockets) socket.destroy();
    await api.close();
  });

  async function keyOf(station: string): Promise<string> {
    await api.ask('PUT', `/v1/stations/${station}`, { body: { kind: 'hot-gas rework' } });
    const { body } = await api.ask('POST', `/v1/stations/${station}/keys`);
    return (body as { key: string }).key;
  }

  function headOf(key: string, length: number): string {
    return `POST /v1/events HTTP/1.1\r\nHost: a\r\nAuthorization: Bearer ${key}\r\nContent-Type: application/json\r\nContent-Length: ${String(length)}\r\n`;
  }

  /** Sends so much of a body and no more, and resolves once the server reads it. */
  async function sendPart(key: string, length: number, sent: number): Promise<Socket> {
    const socket = openSocket(api.url);
    sockets.push(socket.on('error', () => undefined));
    // The server says 100 when it begins to read.
    socket.write(`${headOf(key, length)}Expect: 100-continue\r\n\r\n`);
    await once(socket, 'data');
    socket.write(' '.repeat(sent));
    return socket;
  }

  const post = (key: string, size = 2_000) => {
    const event = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'BRD-1/S1' });
    return api.ask('POST', '/v1/events', { key, raw: JSON.stringify(event).padEnd(size) });
  };

  /** What it answers once it is no longer so many. */
  const becomes = (key: string, status: number, size?: number) =>
    until(async () => (await post(key, size)).status === status, PATIENCE_MS);

  it('are refused to whoever has a share of the room in them, and to nobody else', async () => {
    const [slow, other] = [await keyOf('SLOW-1'), await keyOf('SLOW-2')];
    await sendPart(slow, 99_500, 99_000);
    expect(await becomes(slow, 429)).toBe(true);
    const refused = await post(slow);
    expect(refused.headers.get('retry-after')).toBe('1');
    expect(refused.body).toEqual(problem('too-many-at-once', 429));
    expect((await post(other)).status).not.toBe(429);
    expect((await api.ask('GET', '/v1/units')).status).toBe(200);
  });

  it('are refused to everybody once the room is full, but for what takes no part in it', async () => {
    for (const station of ['A', 'B', 'C']) await sendPart(await keyOf(station), 99_500, 99_000);
    expect(await becomes(ADMIN_KEY, 503, 4_000)).toBe(true);
    const refused = await post(ADMIN_KEY, 4_000);
    expect(refused.headers.get('retry-after')).toBe('1');
    expect(refused.body).toEqual(problem('unavailable', 503));
    const hold = { assembly: 'BRD-1', serial: 'S1', note: 'looks odd' };
    expect((await api.ask('POST', '/v1/holds', { body: hold })).status).not.toBe(503);
  });

  it('take room by what has come, not by what was announced', async () => {
    const slow = await keyOf('SLOW-1');
    for (let n = 0; n < 20; n += 1) await sendPart(slow, 99_000, 100);
    expect((await post(slow)).status).not.toBe(429);
    expect((await post(ADMIN_KEY, 90_000)).status).toBe(202);
  });

  it('leave their room when they are answered, and when their connection breaks', async () => {
    for (let n = 0; n < 10; n += 1) expect((await post(ADMIN_KEY, 90_000)).status).toBe(202);
    const slow = await keyOf('SLOW-1');
    const socket = await sendPart(slow, 99_500, 99_000);
    expect(await becomes(slow, 429)).toBe(true);
    socket.destroy();
    expect(await until(async () => (await post(slow)).status !== 429, PATIENCE_MS)).toBe(true);
  });

  it('are answered while they are sent, and the rest of them is not kept', async () => {
    const slow = await keyOf('SLOW-1');
    const answer = await bareAnswer(api.url, `${headOf(slow, 150_000)}\r\n${' '.repeat(120_000)}`);
    expect([answer?.status, answer?.headers['retry-after']]).toEqual([429, '1']);
    expect((await post(slow)).status).not.toBe(429);
  });
});
