import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { SpecApi, startApi } from '../spec-support/start-api.js';
import { takesGzip } from './desk-file.js';
import { DeskPages } from './desk-pages.js';

const PAGE = `<!doctype html><title>é</title>${'<p>desk</p>'.repeat(40)}`;
const SCRIPT = 'console.log("é");'.repeat(40);

interface RawAnswer {
  readonly status: number | undefined;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly bytes: Buffer;
}

/** Asks without unpacking what comes, and without following where it leads. */
function raw(url: string, headers: Record<string, string> = {}): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    const sent = request(url, { headers, agent: false }, (answer) => {
      const parts: Buffer[] = [];
      answer.on('data', (part: Buffer) => parts.push(part));
      answer.on('end', () => {
        resolve({ status: answer.statusCode, headers: answer.headers, bytes: Buffer.concat(parts) });
      });
    });
    sent.on('error', reject);
    sent.end();
  });
}

describe('the desk as it is served', () => {
  const folder = mkdtempSync(join(tmpdir(), 'heatbook-desk-'));
  let api: SpecApi;
  const get = (path: string, headers?: Record<string, string>): Promise<RawAnswer> => raw(`${api.url}${path}`, headers);

  beforeAll(async () => {
    mkdirSync(join(folder, 'desk', 'assets'), { recursive: true });
    writeFileSync(join(folder, 'desk', 'index.html'), PAGE);
    writeFileSync(join(folder, 'desk', 'assets', 'index-1a.js'), SCRIPT);
    writeFileSync(join(folder, 'desk', 'assets', 'letters-2b.woff2'), Buffer.from([0x77, 0x4f, 0x46, 0x32]));
    writeFileSync(join(folder, 'desk', 'app.webmanifest'), '{}');
    writeFileSync(join(folder, 'outside.js'), 'secret');
    api = await startApi({ pages: folder });
    writeFileSync(join(folder, 'desk', 'assets', 'later-3c.js'), 'came after the start');
  });

  afterAll(async () => {
    await api.close();
    rmSync(folder, { recursive: true });
  });

  it('is where somebody lands who opens the address alone', async () => {
    const { status, headers } = await get('/');
    expect([status, headers['location']]).toEqual([302, '/desk/']);
  });

  it.each(['/desk', '/desk/', '/desk/holds/0af3', '/desk/units/BRD-1/S1.02', '/desk/devices/BRD-1:S1:U7?part=heats'])(
    'is one page at %s, under a policy that lets it load from here alone',
    async (path) => {
      const { status, headers, bytes } = await get(path);
      expect([status, bytes.toString()]).toEqual([200, PAGE]);
      expect(headers).toMatchObject({
        'content-type': 'text/html; charset=utf-8',
        'cache-control': 'no-cache',
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cross-origin-opener-policy': 'same-origin',
      });
      const policy = String(headers['content-security-policy']);
      for (const rule of ["default-src 'none'", "script-src 'self'", "connect-src 'self'", "frame-ancestors 'none'"])
        expect(policy).toContain(rule);
      expect(policy).not.toMatch(/unsafe|\*|https?:/);
    },
  );

  it('has files that a browser keeps for good, each with its media type', async () => {
    const script = await get('/desk/assets/index-1a.js');
    expect([script.status, script.bytes.toString()]).toEqual([200, SCRIPT]);
    expect(script.headers).toMatchObject({
      'content-type': 'text/javascript; charset=utf-8',
      'cache-control': 'public, max-age=31536000, immutable',
      vary: 'accept-encoding',
    });
    const font = await get('/desk/assets/letters-2b.woff2', { 'accept-encoding': 'gzip' });
    expect([font.headers['content-type'], font.headers['content-encoding']]).toEqual(['font/woff2', undefined]);
    const manifest = await get('/desk/app.webmanifest');
    expect([manifest.status, manifest.headers['content-type']]).toEqual([200, 'application/manifest+json']);
  });

  it('sends compressed to who takes that, under a tag of its own', async () => {
    const plain = await get('/desk/assets/index-1a.js');
    const packed = await get('/desk/assets/index-1a.js', { 'accept-encoding': 'br, gzip' });
    expect(packed.headers['content-encoding']).toBe('gzip');
    expect(packed.bytes.length).toBeLessThan(plain.bytes.length);
    expect(gunzipSync(packed.bytes).toString()).toBe(SCRIPT);
    expect(packed.headers['etag']).not.toBe(plain.headers['etag']);
  });

  it('is not sent again to who has it', async () => {
    for (const path of ['/desk/', '/desk/assets/index-1a.js']) {
      const etag = String((await get(path)).headers['etag']);
      const again = await get(path, { 'if-none-match': etag });
      expect([again.status, again.bytes.length, again.headers['etag']]).toEqual([304, 0, etag]);
      expect((await get(path, { 'if-none-match': '"another"' })).status).toBe(200);
    }
  });

  it.each(['none-1a.js', 'later-3c.js', '..%2f..%2foutside.js', '..%2findex.html', '.', 'constructor'])(
    'has no file %s',
    async (name) => {
      const { status, bytes } = await get(`/desk/assets/${name}`);
      expect(status).toBe(404);
      expect(JSON.parse(bytes.toString())).toMatchObject({ type: 'urn:heatbook:problem:not-found' });
    },
  );

  it('knows its addresses for reading only', async () => {
    const { status, headers } = await api.ask('POST', '/desk/units', { key: null, body: {} });
    expect([status, headers.get('allow')]).toEqual([405, 'GET, HEAD']);
  });

  it('says how to make it where it is not built', async () => {
    const unbuilt = await startApi({ pages: join(folder, 'nothing') });
    const { status, body } = await unbuilt.ask('GET', '/desk/holds', { key: null });
    await unbuilt.close();
    expect([status, body]).toEqual([404, expect.objectContaining({ type: 'urn:heatbook:problem:page-not-built' })]);
    expect(JSON.stringify(body)).toContain('npm run build');
  });

  it('does not start with a file that it has no media type for', () => {
    const odd = mkdtempSync(join(tmpdir(), 'heatbook-desk-'));
    mkdirSync(join(odd, 'desk'));
    writeFileSync(join(odd, 'desk', 'index.html'), PAGE);
    writeFileSync(join(odd, 'desk', 'thing.exe'), '');
    expect(() => new DeskPages(odd)).toThrow('add its media type');
    rmSync(odd, { recursive: true });
  });

  it.each([
    ['gzip', true],
    ['GZIP;q=0.5', true],
    ['br;q=1, *;q=0.1', true],
    ['gzip;q=0, *', false],
    ['br', false],
    ['', false],
    [undefined, false],
  ])('reads Accept-Encoding %s', (header, takes) => {
    expect(takesGzip(header)).toBe(takes);
  });
});
