import { createServer, Server } from 'node:http';
import { AddressInfo } from 'node:net';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { downloadArchive } from './download-archive.js';
import { ServiceClient } from '../service/service-client.js';

const BYTES = Buffer.from(Array.from({ length: 50_000 }, (_, n) => n % 251));
const WISH = { id: 'a-1', bytes: BYTES.length, manifestHash: 'f'.repeat(64) };

interface Told {
  readonly range: string | undefined;
  readonly ifRange: string | undefined;
}

let folder: string;
let server: Server;
/** What the service did with each request: how many bytes it gave before it cut the connection. */
let cuts: number[];
let told: Told[];
let etag: string;
/** The connection is cut once so much has come through, so that a test knows where. */
let cutWhenHave: { readonly bytes: number; readonly cut: () => void };

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'heatbook-download-'));
  [cuts, told, etag] = [[], [], `"${WISH.manifestHash}"`];
  cutWhenHave = { bytes: -1, cut: () => undefined };
  server = createServer((request, response) => {
    const { range, 'if-range': ifRange, authorization } = request.headers;
    told.push({ range, ifRange: typeof ifRange === 'string' ? ifRange : undefined });
    if (authorization !== 'Bearer key-1') {
      response.writeHead(401).end('{"detail":"Send a key."}');
      return;
    }
    const from = range === undefined ? 0 : Number(/^bytes=(\d+)-$/.exec(range)?.[1]);
    const body = BYTES.subarray(from);
    response.writeHead(range === undefined ? 200 : 206, { etag, 'content-length': body.length });
    const cut = cuts.shift();
    if (cut === undefined) response.end(body);
    else {
      response.write(body.subarray(0, cut));
      cutWhenHave = { bytes: from + cut, cut: () => request.socket.destroy() };
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
});

afterEach(async () => {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
  await rm(folder, { recursive: true, force: true });
});

async function fetchIt(key = 'key-1'): Promise<readonly number[]> {
  const { port } = server.address() as AddressInfo;
  const have: number[] = [];
  const client = new ServiceClient(`http://127.0.0.1:${String(port)}`, key);
  await downloadArchive(client, { ...WISH, output: join(folder, 'out.zip') }, (bytes) => {
    have.push(bytes);
    if (bytes === cutWhenHave.bytes) cutWhenHave.cut();
  });
  return have;
}

it('goes on where the connection broke off, and leaves nothing but the whole file', async () => {
  cuts = [20_000, 10_000];
  const have = await fetchIt();
  expect(have.at(-1)).toBe(BYTES.length);
  expect(told).toEqual([
    { range: undefined, ifRange: undefined },
    { range: 'bytes=20000-', ifRange: etag },
    { range: 'bytes=30000-', ifRange: etag },
  ]);
  expect(await readdir(folder)).toEqual(['out.zip']);
  expect(await readFile(join(folder, 'out.zip'))).toEqual(BYTES);
});

it('goes on with what an earlier run has fetched', async () => {
  await writeFile(join(folder, 'out.zip.a-1.part'), BYTES.subarray(0, 49_000));
  await fetchIt();
  expect(told).toEqual([{ range: 'bytes=49000-', ifRange: etag }]);
  expect(await readFile(join(folder, 'out.zip'))).toEqual(BYTES);
});

it('begins anew where what is there is longer than the archive', async () => {
  await writeFile(join(folder, 'out.zip.a-1.part'), Buffer.concat([BYTES, BYTES]));
  await fetchIt();
  expect(await readFile(join(folder, 'out.zip'))).toEqual(BYTES);
});

it('writes no file where the service refuses, or has another archive', async () => {
  await expect(fetchIt('key-2')).rejects.toThrow('answered 401: Send a key.');
  etag = '"other"';
  await expect(fetchIt()).rejects.toThrow('not the one that was made');
  expect(await readdir(folder)).toEqual([]);
});
