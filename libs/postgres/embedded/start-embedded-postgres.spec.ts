import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmod, mkdir, mkdtemp, readFile, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { Client } from 'pg';
import { runnable } from '../../../test/support/test-environment.js';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';
import { freePort } from './free-port.js';
import { processStart, until } from './processes.js';
import { type EmbeddedPostgres, startEmbeddedPostgres } from './start-embedded-postgres.js';

const NOBODY = 65_534;

let parent: string;
let folder: string;
let lines: string[];
const running: EmbeddedPostgres[] = [];

beforeEach(async () => {
  parent = await mkdtemp(join(tmpdir(), 'embedded-postgres-'));
  folder = join(parent, 'postgres');
  lines = [];
});

afterEach(async () => {
  await Promise.all(running.splice(0).map((server) => server.stop()));
  await rm(parent, { recursive: true, force: true });
});

async function start(port?: number): Promise<EmbeddedPostgres> {
  const log = (line: string): number => lines.push(line);
  const server = await startEmbeddedPostgres({ folder, log, ...(port === undefined ? {} : { port }) });
  running.push(server);
  return server;
}

async function query(url: string, sql: string): Promise<unknown[]> {
  const client = new Client({ connectionString: url });
  await client.connect();
  try {
    const { rows } = await client.query<Record<string, unknown>>(sql);
    return rows.flatMap((row) => Object.values(row));
  } finally {
    await client.end();
  }
}

async function refusal(attempt: Promise<unknown>): Promise<string> {
  const error: unknown = await attempt.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof EmbeddedPostgresError)) throw new Error(`not refused: ${String(error)}`);
  expect(error.message).not.toContain('\n');
  return error.message;
}

async function startInChild(): Promise<{ child: ChildProcess; url: string; pid: number }> {
  const script = runnable('test/support/embedded-postgres-child.ts');
  const child = spawn(process.execPath, [script, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
  const [line] = (await once(createInterface({ input: child.stdout }), 'line')) as [string];
  return { child, ...(JSON.parse(line) as { url: string; pid: number }) };
}

async function kill(child: ChildProcess): Promise<void> {
  const exited = once(child, 'exit');
  child.kill('SIGKILL');
  await exited;
}

/** Root may write everywhere, so for the time of one call it is not root. */
async function asOrdinaryUser<T>(call: () => Promise<T>): Promise<T> {
  if (process.geteuid?.() !== 0) return call();
  process.seteuid?.(NOBODY);
  try {
    return await call();
  } finally {
    process.seteuid?.(0);
  }
}

describe('an ordinary life', () => {
  it('starts in a folder that does not exist yet, stops, and starts again with the same data', async () => {
    const first = await start();
    await query(first.url, 'CREATE TABLE kept AS SELECT 42 AS n');
    await first.stop();
    expect(await processStart(first.pid)).toBeUndefined();

    const second = await start();
    expect(await query(second.url, 'SELECT n FROM kept')).toEqual([42]);
    expect(lines).toEqual([]);
  });

  it('keeps to loopback, UTF-8, bytewise order and durable commits', async () => {
    const { url } = await start();
    const settings = ['listen_addresses', 'unix_socket_directories', 'fsync', 'server_encoding', 'max_connections'];
    expect(
      await query(url, `SELECT ${settings.map((name) => `current_setting('${name}') AS ${name}`).join()}`),
    ).toEqual(['127.0.0.1', '', 'on', 'UTF8', '100']);
    expect(await query(url, `SELECT datcollate FROM pg_database WHERE datname = current_database()`)).toEqual(['C']);
  });

  it('lets nobody in without the password, which only its user can read', async () => {
    const { url } = await start();
    const wrong = new URL(url);
    wrong.password = 'guess';
    await expect(query(wrong.href, 'SELECT 1')).rejects.toThrow('password authentication failed');
    for (const [name, mode] of [
      ['', 0o700],
      ['cluster', 0o700],
      ['password', 0o600],
      ['postgres.log', 0o600],
    ] as const) {
      expect((await stat(join(folder, name))).mode & 0o777).toBe(mode);
    }
  });

  it('listens on the port that it is told, and says so in a line when that is taken', async () => {
    const port = await freePort();
    const first = await start(port);
    expect(first.port).toBe(port);
    const other = startEmbeddedPostgres({ folder: join(parent, 'other'), port });
    expect(await refusal(other)).toBe(`Port ${port} of 127.0.0.1 is taken: name another one, or none`);
  });

  it('may be stopped twice', async () => {
    const server = await start();
    await Promise.all([server.stop(), server.stop()]);
    await server.stop();
  });
});

describe('after a kill', () => {
  it('starts again when the server itself was killed, and loses no commit', async () => {
    const first = await start();
    await query(first.url, 'CREATE TABLE kept AS SELECT 7 AS n');
    process.kill(first.pid, 'SIGKILL');
    expect(await until(() => lines.length > 0, 5_000)).toBe(true);
    expect(lines[0]).toMatch(/^Postgres ended by itself \(SIGKILL\): see the end of .*postgres\.log$/);
    await first.stop();

    const second = await start();
    expect(await query(second.url, 'SELECT n FROM kept')).toEqual([7]);
  });

  it('stops the server of an owner that was killed, and goes on with its data', async () => {
    const orphan = await startInChild();
    await query(orphan.url, 'CREATE TABLE kept AS SELECT 8 AS n');
    await kill(orphan.child);
    expect(await processStart(orphan.pid)).toBeDefined();

    const next = await start();
    expect(lines).toEqual([`stopping a Postgres left over from a run that was killed (process ${orphan.pid})`]);
    expect(await processStart(orphan.pid)).toBeUndefined();
    expect(await query(next.url, 'SELECT n FROM kept')).toEqual([8]);
  });

  it('goes on when owner and server were both killed', async () => {
    const { child, pid } = await startInChild();
    await kill(child);
    process.kill(pid, 'SIGKILL');
    const next = await start();
    expect(await query(next.url, 'SELECT 1')).toEqual([1]);
  });

  it('is not misled by a postmaster.pid that names another living process', async () => {
    const first = await start();
    await first.stop();
    await writeFile(join(folder, 'cluster', 'postmaster.pid'), `${process.pid}\n${join(folder, 'cluster')}\n`);
    const next = await start();
    expect(await query(next.url, 'SELECT 1')).toEqual([1]);
  });
});

describe('a folder that cannot be used', () => {
  it('is left alone while a living process uses it', async () => {
    const first = await start();
    expect(await refusal(start())).toBe(
      `${folder} is in use by process ${process.pid}: stop that one first, or give this one a data folder of its own`,
    );
    expect(await query(first.url, 'SELECT 1')).toEqual([1]);
  });

  it('is named when it cannot be written', async () => {
    await chmod(parent, 0o555);
    expect(await refusal(asOrdinaryUser(() => start()))).toMatch(
      /postgres cannot be written \(EACCES\): make it writable/,
    );
  });

  it('is named when the path leads through a file', async () => {
    await writeFile(folder, 'a file');
    folder = join(folder, 'below');
    expect(await refusal(start())).toMatch(/below cannot be written \(ENOTDIR\): /);
  });

  it('is named when its file system takes no new folders at all', async () => {
    // /proc answers ENOENT for a new folder though its parent is there; only Linux has it, and elsewhere it cannot be made either.
    folder = '/proc/nope/postgres';
    await expect(start()).rejects.toThrow(EmbeddedPostgresError);
  });

  it('is named when it holds something else', async () => {
    await mkdir(folder);
    await writeFile(join(folder, 'letters.txt'), 'mine');
    expect(await refusal(start())).toMatch(/postgres holds something else \(letters\.txt\): .* a folder of its own/);
    expect(await readFile(join(folder, 'letters.txt'), 'utf8')).toBe('mine');
  });

  it('is quoted with what Postgres says when its data are broken', async () => {
    await (await start()).stop();
    await truncate(join(folder, 'cluster', 'global', 'pg_control'), 100);
    const message = await refusal(start());
    expect(message).toMatch(
      /^Postgres refuses to start in .*cluster: .*pg_control.*Put the folder .* back from a backup/,
    );
  });

  it('is named when it lost what makes it a cluster', async () => {
    await (await start()).stop();
    await rm(join(folder, 'cluster', 'PG_VERSION'));
    expect(await refusal(start())).toMatch(/cluster is not a data folder of Postgres \(PG_VERSION: ENOENT\): /);
  });

  it('is named when another major version made it', async () => {
    await (await start()).stop();
    await writeFile(join(folder, 'cluster', 'PG_VERSION'), '15\n');
    expect(await refusal(start())).toMatch(/was made by Postgres 15 and this is Postgres 18: .* dump it with pg_dump/);
  });

  it('is named when its password is gone or is another', async () => {
    await (await start()).stop();
    const password = await readFile(join(folder, 'password'), 'utf8');
    await writeFile(join(folder, 'password'), 'another\n');
    expect(await refusal(start())).toMatch(/^Postgres does not take the password in /);
    await rm(join(folder, 'password'));
    expect(await refusal(start())).toMatch(/password cannot be read \(ENOENT\): put it back from a backup/);
    await writeFile(join(folder, 'password'), password);
    expect(await query((await start()).url, 'SELECT 1')).toEqual([1]);
  });
});
