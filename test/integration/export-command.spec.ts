import { execFile } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, Server, ServerResponse } from 'node:http';
import { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runnable } from '../support/test-environment.js';

const FILE = '{"whole": true}\n';
const CHECKPOINT = `heatbook/0123456789ab\n42\n${Buffer.alloc(32, 7).toString('base64')}\n\n— heatbook/0123456789ab ${Buffer.alloc(68, 9).toString('base64')}\n`;

interface Ended {
  readonly code: number | string | null;
  readonly stdout: string;
  readonly stderr: string;
}

describe('heatbook export', () => {
  let folder: string;
  let server: Server;
  let asked: string[];
  let answer: (response: ServerResponse) => void;

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'heatbook-export-'));
    asked = [];
    server = createServer((request, response) => {
      asked.push(String(request.url));
      answer(response);
    });
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    answer = (response) => response.end(FILE);
  });

  afterEach(async () => {
    server.close();
    await rm(folder, { recursive: true, force: true });
  });

  function run(...args: string[]): Promise<Ended> {
    const { port } = server.address() as AddressInfo;
    const env = { PATH: process.env['PATH'], HEATBOOK_URL: `http://127.0.0.1:${String(port)}`, HEATBOOK_KEY: 'hbk_x' };
    const all = [runnable('apps/cli/main.ts'), 'export', 'BRD-1', 'S:1', ...args];
    return new Promise((resolve) => {
      execFile(process.execPath, all, { env, cwd: folder }, (error, stdout, stderr) => {
        resolve({ code: error === null ? 0 : (error.code ?? null), stdout, stderr });
      });
    });
  }

  it('asks for a form and for proofs from checkpoints that were kept, and writes what came', async () => {
    await writeFile(join(folder, 'kept.checkpoint'), CHECKPOINT);
    const wish = ['--format', 'csv', '--since-checkpoint', 'kept.checkpoint', '-o', 'audit.csv'];
    expect(await run(...wish)).toEqual({ code: 0, stdout: '', stderr: '' });
    expect(await readFile(join(folder, 'audit.csv'), 'utf8')).toBe(FILE);
    expect(asked).toEqual(['/v1/units/BRD-1/S%3A1/audit?format=csv&since=42']);
  });

  it('ends with 1 where the connection breaks off, whatever it has printed by then', async () => {
    answer = (response) => {
      response.write(FILE, () => response.destroy());
    };
    const { code, stdout, stderr } = await run();
    expect([code, stdout, stderr]).toEqual([1, FILE, expect.stringContaining('broke off')]);
    expect(asked).toEqual(['/v1/units/BRD-1/S%3A1/audit?format=json']);
  });

  it('says what the service says', async () => {
    answer = (response) => response.writeHead(404).end(JSON.stringify({ detail: 'There is no unit S:1.' }));
    const { code, stderr } = await run('-o', 'audit.json');
    expect([code, stderr]).toEqual([1, expect.stringContaining('no unit S:1')]);
    expect(await readdir(folder)).toEqual([]);
  });
});
