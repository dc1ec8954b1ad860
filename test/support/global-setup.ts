import { spawn } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { createInterface } from 'node:readline';
import { type Options, transformSync } from '@swc/core';

/** What global-teardown needs to end what was begun here. */
export interface TestWorld {
  /** Stops the shared servers and removes the transpiled tree. */
  readonly stopServers: () => Promise<void>;
}

declare global {
  var testWorld: TestWorld | undefined;
}

const ROOMS = ['apps', 'libs', 'migrations', 'test'];

/**
 * Runs once before all suites: makes plain JavaScript of the whole tree, so that a suite can run a part of it as a
 * process of its own, and starts the servers that the suites share. Suites find them through the helpers beside this
 * file, which read TEST_TREE, TEST_DATABASE_URL and TEST_REDIS_URL.
 *
 * Jest loads this file without its resolver, so it imports no file of ours.
 */
export default async function globalSetup(config: { rootDir: string }): Promise<void> {
  const tree = mkdtempSync(join(tmpdir(), 'heatbook-test-'));
  try {
    transpileTree(config.rootDir, tree);
    const { urls, stop } = await startServers(tree);
    Object.assign(process.env, { TEST_TREE: tree, TEST_DATABASE_URL: urls.databaseUrl, TEST_REDIS_URL: urls.redisUrl });
    globalThis.testWorld = { stopServers: stop };
  } catch (error) {
    rmSync(tree, { recursive: true, force: true });
    throw error;
  }
}

/** Transpiles with the very options that the suites are transpiled with. Types are checked elsewhere. */
function transpileTree(root: string, tree: string): void {
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
    jest: { transform: Record<string, [string, Options]> };
  };
  const options = Object.values(manifest.jest.transform)[0]?.[1];
  const rooms = ROOMS.map((room) => join(root, room)).filter((room) => existsSync(room));
  const entries = rooms.flatMap((room) => readdirSync(room, { recursive: true, withFileTypes: true }));
  for (const entry of entries) {
    if (!entry.isFile() || !/(?<!\.spec|\.d)\.ts$/.test(entry.name)) continue;
    const source = join(entry.parentPath, entry.name);
    const target = join(tree, relative(root, source).replace(/\.ts$/, '.js'));
    mkdirSync(dirname(target), { recursive: true });
    writeFileSync(target, transpiled(source, options));
  }
  for (const name of ['node_modules', 'package.json']) symlinkSync(join(root, name), join(tree, name));
}

/** A file with a mistake in it must fail the suite that runs it, not all suites. */
function transpiled(source: string, options: Options | undefined): string {
  try {
    const settings = { ...options, filename: source, sourceMaps: 'inline', swcrc: false } as const;
    return transformSync(readFileSync(source, 'utf8'), settings).code;
  } catch (error) {
    return `throw new SyntaxError(${JSON.stringify(String(error))});\n`;
  }
}

interface ServerUrls {
  readonly databaseUrl: string;
  readonly redisUrl: string;
}

/**
 * The servers run under a process of their own that stops them, and removes the tree, when its input ends. So that is
 * done however Jest ends: at teardown, by Ctrl-C, or killed.
 */
async function startServers(tree: string): Promise<{ urls: ServerUrls; stop: () => Promise<void> }> {
  const keeper = spawn(process.execPath, [join(tree, 'test/support/keep-test-servers.js'), tree], {
    stdio: ['pipe', 'pipe', 'inherit'],
    detached: true,
  });
  const exited = new Promise<void>((resolve) =>
    keeper.once('exit', () => {
      resolve();
    }),
  );
  const stop = async (): Promise<void> => {
    keeper.stdin.end();
    await exited;
  };
  for await (const line of createInterface({ input: keeper.stdout })) {
    const answer = JSON.parse(line) as ServerUrls | { problem: string };
    if (!('problem' in answer)) return { urls: answer, stop };
    await stop();
    throw new Error(`The servers for the tests cannot be started: ${answer.problem}`);
  }
  throw new Error('The servers for the tests cannot be started: see above');
}
