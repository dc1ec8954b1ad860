import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';

/** Somebody who looks at pages. */
export interface Looker {
  readonly name: string;
  readonly password: string;
}

/** The product as `npm start` runs it, with the demo, in a folder of its own. */
export interface ShownHouse {
  readonly url: string;
  readonly quality: Looker;
  readonly customer: Looker;
  /** Asks the API with the admin key. @throws Error where it does not answer well */
  ask(method: string, path: string, body?: object): Promise<Record<string, unknown>>;
  close(): Promise<void>;
}

const START_MS = 120_000;

/** Starts what `npm run build` made, and makes accounts. */
export async function shownHouse(): Promise<ShownHouse> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-shown-'));
  const env = { PATH: process.env['PATH'], HEATBOOK_DATA: join(folder, 'data'), PORT: '0' };
  const run = spawn(process.execPath, ['dist/apps/cli/main.js', 'run'], { env, stdio: ['ignore', 'pipe', 'inherit'] });
  const { url, key } = await started(run);
  const ask: ShownHouse['ask'] = async (method, path, body) => {
    const headers = {
      authorization: `Bearer ${key}`,
      ...(body !== undefined && { 'content-type': 'application/json' }),
    };
    const answer = await fetch(`${url}${path}`, {
      method,
      headers,
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
    return (await answer.json()) as Record<string, unknown>;
  };
  const looker = async (name: string, printedName: string, role: object): Promise<Looker> => {
    const password = `words to show pages with ${name}`;
    await ask('POST', '/v1/people', { name, printedName, password, ...role });
    return { name, password };
  };
  return {
    url,
    quality: await looker('q-01', 'Quality desk 1', { roles: ['quality'] }),
    customer: await looker('c-01', 'Customer desk 1', { roles: ['customer'], customer: 'Zibbleford' }),
    ask,
    close: async () => {
      const ended = new Promise((resolve) => run.once('close', resolve));
      run.kill('SIGINT');
      await ended;
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Waits for what the first start prints. */
async function started(run: ChildProcess): Promise<{ url: string; key: string }> {
  let said = '';
  run.stdout?.setEncoding('utf8').on('data', (text: string) => (said += text));
  const deadline = performance.now() + START_MS;
  while (!said.includes('Ctrl-C stops it')) {
    if (run.exitCode !== null || performance.now() > deadline) throw new Error(`It did not start:\n${said}`);
    await after(100);
  }
  const [, url] = /^Heatbook is up at (\S+)$/m.exec(said) ?? [];
  const [, key] = /HEATBOOK_KEY=(\S+)/.exec(said) ?? [];
  if (url === undefined || key === undefined) throw new Error(`It printed no address or key:\n${said}`);
  return { url, key };
}
