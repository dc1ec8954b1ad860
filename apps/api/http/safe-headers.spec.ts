import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bareAnswer } from '../../../test/support/bare-connection.js';
import { ADMIN_KEY, type SpecApi, startApi } from '../spec-support/start-api.js';

const PAGES = ['/desk', '/desk/*', '/verify'];
/** What anyone may read, and which names nobody. */
const PUBLIC = ['/v1/log/checkpoint', '/v1/log/keys', '/v1/log/proofs/consistency'];
const OF_EVERY_ANSWER = {
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'same-origin',
};
const OF_DATA = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

describe('every answer', () => {
  const folder = mkdtempSync(join(tmpdir(), 'heatbook-headers-'));
  let api: SpecApi;
  let routes: readonly { method: string; path: string }[];

  beforeAll(async () => {
    mkdirSync(join(folder, 'desk', 'assets'), { recursive: true });
    writeFileSync(join(folder, 'desk', 'index.html'), '<!doctype html>');
    writeFileSync(join(folder, 'desk', 'assets', 'a-1.js'), '1');
    const policy = "default-src 'none'; base-uri 'none'; form-action 'none'";
    writeFileSync(join(folder, 'verify.html'), `<meta http-equiv="Content-Security-Policy" content="${policy}" />`);
    api = await startApi({ pages: folder });
    await api.sequenceLog();
    const { body } = await api.ask('GET', '/openapi.json');
    const { paths } = body as { paths: Record<string, Record<string, unknown>> };
    routes = Object.entries(paths).flatMap(([path, operations]) =>
      Object.keys(operations).map((method) => ({ method: method.toUpperCase(), path })),
    );
  });

  afterAll(async () => {
    await api.close();
    rmSync(folder, { recursive: true });
  });

  /** The headers of an answer whose body is left unread: a stream has no end. */
  async function headersOf(method: string, address: string, key: string | null): Promise<Record<string, string>> {
    const authorization = key === null ? {} : { authorization: `Bearer ${key}` };
    const answer = await fetch(`${api.url}${address}`, { method, headers: authorization, redirect: 'manual' });
    await answer.body?.cancel();
    return Object.fromEntries(answer.headers);
  }

  it('of every route, to whom it is refused and to whom it is not, tells browsers what not to do with it', async () => {
    expect(routes.length).toBeGreaterThan(100);
    for (const { method, path } of routes) {
      for (const key of [ADMIN_KEY, null]) {
        const headers = await headersOf(method, path.replace('{path}', 'holds').replaceAll(/\{\w+\}/g, 'x'), key);
        const policy = headers['content-security-policy'] ?? '';
        const found = { route: `${method} ${path}`, ...headers };
        expect(found).toMatchObject({ route: `${method} ${path}`, ...OF_EVERY_ANSWER });
        if (PAGES.includes(path.replace('{path}', '*'))) {
          for (const rule of [
            "default-src 'none'",
            "base-uri 'none'",
            "form-action 'none'",
            "frame-ancestors 'none'",
          ]) {
            expect([path, policy]).toEqual([path, expect.stringContaining(rule)]);
          }
          expect(found).toMatchObject({ 'cross-origin-opener-policy': 'same-origin' });
        } else expect([path, policy]).toEqual([path, OF_DATA]);
        if (path.startsWith('/v1') && !PUBLIC.includes(path)) {
          expect(found).toMatchObject({ route: `${method} ${path}`, 'cache-control': 'no-store' });
        }
        expect(Object.keys(headers)).not.toContain('access-control-allow-origin');
        expect(Object.keys(headers)).not.toContain('server');
      }
    }
  }, 60_000);

  it.each(['/', '/desk/assets/a-1.js', '/nothing/here', '/v1/nothing/here', '/v1/units/%E0%A4%A'])(
    'at %s too',
    async (address) => {
      expect(await headersOf('GET', address, null)).toMatchObject({
        ...OF_EVERY_ANSWER,
        'content-security-policy': OF_DATA,
      });
    },
  );

  it('sends nobody back what they sent: TRACE is no method', async () => {
    const answer = await bareAnswer(api.url, 'TRACE /health/live HTTP/1.1\r\nHost: a\r\nX-Mine: secret\r\n\r\n');
    expect(answer?.status).toBeGreaterThanOrEqual(400);
    expect(answer?.text).not.toContain('secret');
  });

  it('asks for HTTPS alone where the service is set up for it, and only there', async () => {
    expect(Object.keys(await headersOf('GET', '/health/live', null))).not.toContain('strict-transport-security');
    const secure = await startApi({ pages: folder, secureCookies: true });
    for (const address of ['/health/live', '/desk', '/v1/units', '/v1/units/%E0%A4%A']) {
      const { headers } = await secure.ask('GET', address);
      expect(headers.get('strict-transport-security')).toBe('max-age=31536000; includeSubDomains');
    }
    await secure.close();
  });
});
