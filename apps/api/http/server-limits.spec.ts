import { once } from 'node:events';
import { gzipSync } from 'node:zlib';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { bareAnswer, bareText, openSocket } from '../../../test/support/bare-connection.js';
import { UNUSUAL_CONNECTIONS } from '../../../test/support/unusual-connections.js';
import { problem } from '../spec-support/matchers.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';
import { safeHeaders } from './safe-headers.js';
import { SERVER_LIMITS } from './server-limits.js';

const HEAD = `Host: a\r\nAuthorization: Bearer ${ADMIN_KEY}\r\n`;
const HELD = 40;
const PATIENCE_MS = 5_000;

describe('what is no ordinary request', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
  });

  afterAll(() => api.close());

  it.each(UNUSUAL_CONNECTIONS)('is answered in the usual form: $name', async ({ bytes, answer, halfClosed }) => {
    const first = await bareAnswer(api.url, bytes, halfClosed);
    expect(first?.status ?? 'none').toBe(answer);
    if (first === undefined) return;
    const id = expect.stringMatching(/^[\w-]{36}$/) as string;
    expect(first.headers).toMatchObject(safeHeaders(id));
    if (first.status < 400) return;
    expect(first.headers).toMatchObject({
      'content-type': 'application/problem+json; charset=utf-8',
      'cache-control': 'no-store',
    });
    expect(JSON.parse(first.text)).toMatchObject({
      status: first.status,
      detail: expect.stringMatching(/\.$/) as string,
    });
  });

  it('answers in order: what was asked well, then what cannot be read', async () => {
    const text = await bareText(api.url, `GET /v1/units HTTP/1.1\r\n${HEAD}\r\nnonsense\r\n\r\n`);
    expect(text.match(/HTTP\/1\.1 \d+/g)).toEqual(['HTTP/1.1 200', 'HTTP/1.1 400']);
  });

  it('counts it', async () => {
    await bareAnswer(api.url, 'hello\r\n\r\n');
    const { text } = await api.ask('GET', '/metrics');
    expect(text).toMatch(/heatbook_http_request_seconds_count\{method="none",route="none",status="400"\} [1-9]/);
  });

  it('is no error of ours where a client leaves in the middle of a body', async () => {
    const before = await api.connections();
    const socket = openSocket(api.url);
    socket.write(
      `POST /v1/holds HTTP/1.1\r\n${HEAD}Content-Type: application/json\r\nContent-Length: 200\r\nExpect: 100-continue\r\n\r\n{`,
    );
    // Now its body is being read.
    await once(socket, 'data');
    socket.destroy();
    expect(await until(async () => (await api.connections()) <= before, PATIENCE_MS)).toBe(true);
    await api.ask('GET', '/health/live');
    expect(api.lines.filter((line) => line.startsWith('A request failed.'))).toEqual([]);
  });

  it('does not unpack bodies', async () => {
    const asked = await fetch(`${api.url}/v1/holds`, {
      method: 'POST',
      headers: { authorization: `Bearer ${ADMIN_KEY}`, 'content-type': 'application/json', 'content-encoding': 'gzip' },
      body: gzipSync('{}'),
    });
    expect(await asked.json()).toEqual(problem('unknown-media-type', 415));
    expect(asked.headers.get('accept-encoding')).toBe('identity');
  });

  it('lets whoever sends too much read why, and go on over the same connection', async () => {
    const length = 20_000_000;
    const socket = openSocket(api.url);
    let text = '';
    socket.on('data', (chunk: string) => (text += chunk));
    socket.write(
      `POST /v1/holds HTTP/1.1\r\n${HEAD}Content-Type: application/json\r\nContent-Length: ${String(length)}\r\n\r\n`,
    );
    expect(await until(() => text.includes('urn:heatbook:problem:too-large'), PATIENCE_MS)).toBe(true);
    socket.write(' '.repeat(length));
    socket.write(`GET /health/live HTTP/1.1\r\n${HEAD}\r\n`);
    expect(await until(() => text.includes('{"ok":true}'), PATIENCE_MS)).toBe(true);
    socket.destroy();
  });

  it('says so where it lets go of the connection, as the client wished, of a body that it did not take', async () => {
    const head = `Host: a\r\nConnection: close, x-any\r\nContent-Type: application/json\r\nContent-Length: 2\r\n`;
    const text = await bareText(api.url, `POST /v1/holds HTTP/1.1\r\n${head}\r\n{}`);
    expect(text).toMatch(/^HTTP\/1\.1 401 [^]*\r\nconnection: close\r\n/i);
  });

  it('takes a large address up to its limit, and keeps the headers on one that is malformed', async () => {
    const query = (length: number): string => `/health/live?${'a'.repeat(length - '/health/live?'.length)}`;
    expect((await api.ask('GET', query(SERVER_LIMITS.address))).status).toBe(200);
    expect((await api.ask('GET', query(SERVER_LIMITS.address + 1))).body).toEqual(problem('address-too-long', 414));
    const malformed = await api.ask('GET', '/v1/units/%E0%A4%A');
    expect(malformed.headers.get('content-security-policy')).toContain("default-src 'none'");
  });

  it('works at so many requests of one connection at once', async () => {
    const one = `GET /v1/units HTTP/1.1\r\n${HEAD}`;
    const text = await bareText(api.url, `${`${one}\r\n`.repeat(99)}${one}Connection: close\r\n\r\n`);
    expect(text.match(/HTTP\/1\.1 200/g)).toHaveLength(SERVER_LIMITS.atOnce);
    expect(text.match(/HTTP\/1\.1 429/g)).toHaveLength(100 - SERVER_LIMITS.atOnce);
    expect(text).toContain('urn:heatbook:problem:too-many-at-once');
    // So many are answered, whatever became of those before them.
    const paced = await bareText(
      api.url,
      `${one}\r\n`.repeat(SERVER_LIMITS.atOnce - 1) + `${one}Connection: close\r\n\r\n`,
    );
    expect(paced).not.toContain('HTTP/1.1 429');
  });
});

describe('whoever is slow', () => {
  let api: SpecApi;

  beforeAll(async () => {
    const short = { headersMs: 300, requestMs: 600, idleMs: 1_000, lookEveryMs: 50, connections: HELD + 2 };
    api = await startApi({ limits: { ...SERVER_LIMITS, ...short } });
  });

  afterAll(() => api.close());

  it.each([
    ['says nothing', ''],
    ['does not end the headers', `GET /health/live HTTP/1.1\r\nHost: a\r\n`],
    [
      'does not end the body',
      `POST /v1/session HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 9\r\n\r\n{`,
    ],
  ])('is told so, and let go: one who %s', async (_what, bytes) => {
    const answer = await bareAnswer(api.url, bytes);
    expect(answer?.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(JSON.parse(answer?.text ?? '')).toEqual(problem('request-timeout', 408));
  });

  it('is let go though a byte comes now and then', async () => {
    const socket = openSocket(api.url);
    const drip = setInterval(() => socket.write('a'), 20);
    socket.write('GET /health/live HTTP/1.1\r\nHost: a\r\nX-A: ');
    socket.resume();
    await once(socket, 'end');
    clearInterval(drip);
    socket.destroy();
  });

  it('does not hold the others, and takes no place but its own', async () => {
    const slow = Array.from({ length: HELD }, () => openSocket(api.url));
    for (const socket of slow) socket.on('error', () => undefined).write('GET /health/live HTTP/1.1\r\n');
    expect((await api.ask('GET', '/health/live')).status).toBe(200);
    expect(await until(async () => (await api.connections()) <= 2, PATIENCE_MS)).toBe(true);
    for (const socket of slow) socket.destroy();
  });

  it('is let go where it does not read', async () => {
    const rows = Array.from({ length: 100_000 }, (_, n) => `${String(n)},25.00000000000`).join('\n');
    await api.ask('PUT', '/v1/traces/LONG', { raw: `s,T1\n${rows}\n`, type: 'text/csv' });
    const socket = openSocket(api.url);
    socket.pause().on('error', () => undefined);
    // Far more than the system keeps for a reader: 2 MB each.
    socket.write(`GET /v1/traces/LONG HTTP/1.1\r\n${HEAD}\r\n`.repeat(20));
    await once(socket, 'connect');
    const before = await api.connections();
    expect(await until(async () => (await api.connections()) < before, PATIENCE_MS)).toBe(true);
    socket.destroy();
  });

  it('cannot open more connections than a process bears', async () => {
    const idle = Array.from({ length: HELD + 2 }, () => openSocket(api.url));
    const last = openSocket(api.url);
    for (const socket of [...idle, last]) socket.on('error', () => undefined).resume();
    await once(last, 'end');
    expect(last.bytesRead).toBe(0);
    for (const socket of [...idle, last]) socket.destroy();
    expect(await until(async () => (await api.connections()) <= 2, PATIENCE_MS)).toBe(true);
    expect((await api.ask('GET', '/health/live')).status).toBe(200);
  });
});
