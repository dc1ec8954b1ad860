import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { stopLeftoverServer } from '../../libs/postgres/embedded/leftover-server.js';
import { BookClient } from './process-client.js';
import { FamilyMember, ProcessFamily } from './process-family.js';
import { runnable } from './test-environment.js';

const exec = promisify(execFile);
const START_MS = 25_000;

/** `heatbook run` as a person has it: all in one process, with its own Postgres, in a data folder of its own. */
export class RunBench {
  readonly #family = new ProcessFamily();
  readonly #env: Readonly<Record<string, string>>;

  private constructor(
    private readonly folder: string,
    readonly dataFolder: string,
  ) {
    this.#env = { HEATBOOK_DATA: dataFolder, PORT: '0', HEATBOOK_DEMO: '0' };
  }

  static async open(): Promise<RunBench> {
    const folder = await mkdtemp(join(tmpdir(), 'heatbook-run-'));
    return new RunBench(folder, join(folder, 'data'));
  }

  /** Starts it with an empty book on any free port, unless told otherwise. */
  start(env: Readonly<Record<string, string>> = {}): FamilyMember {
    return this.#family.start('apps/cli/main.ts', { ...this.#env, ...env }, ['run']);
  }

  /** Starts it and waits until it says that it is up. */
  async startUp(env: Readonly<Record<string, string>> = {}): Promise<FamilyMember> {
    const run = this.start(env);
    await run.printed('Ctrl-C stops it', START_MS);
    return run;
  }

  /** Starts a service of its own. */
  startService(name: 'api' | 'worker', env: Readonly<Record<string, string>>): FamilyMember {
    return this.#family.start(`apps/${name}/main.ts`, { PORT: '0', ...env });
  }

  /**
   * Runs a line that was printed for a person, in a shell; `npx heatbook` is the program under test.
   * @returns what it printed
   * @throws Error where it does not end with 0
   */
  async shell(line: string, key: string): Promise<string> {
    const heatbook = `"${process.execPath}" "${runnable('apps/cli/main.ts')}"`;
    const there = join(this.folder, 'desk');
    await mkdir(there, { recursive: true });
    const env = { PATH: process.env['PATH'], HEATBOOK_DATA: this.dataFolder, HEATBOOK_KEY: key };
    const { stdout } = await exec('sh', ['-c', line.replaceAll('npx heatbook', heatbook)], { cwd: there, env });
    return stdout;
  }

  async close(): Promise<void> {
    await this.#family.endAll();
    // A run that was killed leaves its Postgres behind.
    await stopLeftoverServer(join(this.dataFolder, 'postgres', 'cluster'), () => undefined);
    await rm(this.folder, { recursive: true, force: true });
  }
}

export function addressOf(run: FamilyMember): string {
  const address = /^Heatbook is up at (\S+)$/m.exec(run.stdout())?.[1];
  if (address === undefined) throw new Error(`no address in:\n${run.stdout()}`);
  return address;
}

/** The key that was printed, if one was. */
export function keyOf(run: FamilyMember): string | undefined {
  return /HEATBOOK_KEY=([\w.-]{16,})/.exec(run.stdout())?.[1];
}

export function clientOf(run: FamilyMember, key: string): BookClient {
  return new BookClient(addressOf(run), key);
}

/** The password of the account admin that was printed, if one was. */
export function passwordOf(run: FamilyMember): string | undefined {
  return /^ +password +(\S{20,})$/m.exec(run.stdout())?.[1];
}
