import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SpecApi, startApi } from '../spec-support/start-api.js';
import { VerifyPage } from './verify-page.js';

const PAGE = `<!doctype html><meta http-equiv="Content-Security-Policy" content="default-src 'none'" /><p>é</p>`;

describe('the page that checks audits', () => {
  const folder = mkdtempSync(join(tmpdir(), 'heatbook-page-'));
  let api: SpecApi;

  beforeAll(async () => {
    writeFileSync(join(folder, 'verify.html'), PAGE);
    api = await startApi({ pages: folder });
  });

  afterAll(async () => {
    await api.close();
    rmSync(folder, { recursive: true });
  });

  it('is given to everyone, under the policy that it carries', async () => {
    const { status, headers, text } = await api.ask('GET', '/verify', { key: null });
    expect([status, text]).toEqual([200, PAGE]);
    expect(headers.get('content-type')).toBe('text/html; charset=utf-8');
    expect(headers.get('content-security-policy')).toBe("default-src 'none'; frame-ancestors 'none'");
  });

  it('is not sent again to who has it', async () => {
    const etag = (await api.ask('GET', '/verify')).headers.get('etag') ?? '';
    const ask = (known: string) => fetch(`${api.url}/verify`, { headers: { 'if-none-match': known } });
    const again = await ask(etag);
    expect([again.status, await again.text(), again.headers.get('etag')]).toEqual([304, '', etag]);
    expect((await ask('"another"')).status).toBe(200);
  });

  it('says how to make it where it is not built', async () => {
    const unbuilt = await startApi({ pages: join(folder, 'nothing') });
    const { status, body } = await unbuilt.ask('GET', '/verify', { key: null });
    await unbuilt.close();
    expect(status).toBe(404);
    expect(body).toMatchObject({ type: 'urn:heatbook:problem:page-not-built' });
    expect(JSON.stringify(body)).toContain('npm run build');
  });

  it('is not served without a policy', () => {
    const bare = mkdtempSync(join(tmpdir(), 'heatbook-page-'));
    writeFileSync(join(bare, 'verify.html'), '<p>anything');
    expect(() => new VerifyPage(bare)).toThrow('names no Content-Security-Policy');
    rmSync(bare, { recursive: true });
  });
});
