import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { ensureRedisServer } from './ensure-redis-server.js';

export interface RedisServer {
  readonly url: string;
  readonly port: number;
  readonly pid: number;
  /** Stops it in good order. */
  stop(): Promise<void>;
  /** Kills it like a power cut would. Without a folder another one on the same port comes back empty. */
  kill(): Promise<void>;
}

export interface RedisOptions {
  /** `noeviction` (the only policy a queue may run on) unless told otherwise. */
  readonly maxmemoryPolicy?: string;
  /** Without it a free one is chosen. */
  readonly port?: number;
  /** Where it writes down what it takes in (every second to disk); without it nothing is kept. */
  readonly folder?: string;
}

/** How many databases a server has, so that every suite can have one to itself. */
const DATABASES = 256;
const ATTEMPTS = 5;
const STOP_MS = 5_000;

/** Starts a redis-server of one's own on loopback, in memory only unless a folder is given. */
export async function startRedis(options: RedisOptions = {}): Promise<RedisServer> {
  await ensureRedisServer();
  for (let attempt = 1; ; attempt += 1) {
    const port = options.port ?? (await freePort());
    const ownFolder = options.folder === undefined ? await mkdtemp(join(tmpdir(), 'heatbook-test-redis-')) : undefined;
    const child = spawn('redis-server', serverArguments(port, options, ownFolder), {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const exited = once(child, 'exit').then(async () => {
      if (ownFolder !== undefined) await rm(ownFolder, { recursive: true, force: true });
    });
    const end = async (signal: NodeJS.Signals): Promise<void> => {
      child.kill(signal);
      const escalation = setTimeout(() => child.kill('SIGKILL'), STOP_MS);
      await exited;
      clearTimeout(escalation);
    };
    const complaint = await complaintBeforeReady(child.stdout);
    if (complaint === undefined) {
      return {
        url: `redis://127.0.0.1:${port}`,
        port,
        pid: pidOf(child),
        stop: () => end('SIGTERM'),
        kill: () => end('SIGKILL'),
      };
    }
    await exited;
    if (options.port !== undefined || attempt === ATTEMPTS)
      throw new Error(`redis-server does not start: ${complaint}`);
  }
}

function serverArguments(port: number, options: RedisOptions, ownFolder: string | undefined): string[] {
  const settings = {
    port: String(port),
    bind: '127.0.0.1',
    dir: options.folder ?? ownFolder ?? '',
    save: '',
    appendonly: ownFolder === undefined ? 'yes' : 'no',
    databases: String(DATABASES),
    'maxmemory-policy': options.maxmemoryPolicy ?? 'noeviction',
  };
  return Object.entries(settings).flatMap(([name, value]) => [`--${name}`, value]);
}

/** Reads what the server prints until it takes connections; its last line if it ends before that. */
async function complaintBeforeReady(output: NodeJS.ReadableStream): Promise<string | undefined> {
  let last = '';
  const lines = createInterface({ input: output });
  for await (const line of lines) {
    if (line.includes('Ready to accept connections')) {
      // Leaving the loop closes the reader; what the server prints from here on is let go.
      output.resume();
      return undefined;
    }
    if (line.trim() !== '') last = line;
  }
  return last;
}

function pidOf(child: ChildProcess): number {
  if (child.pid === undefined) throw new Error('a started process has an id');
  return child.pid;
}
