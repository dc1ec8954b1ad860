import { spawn } from 'node:child_process';
import { until } from '../../libs/postgres/embedded/processes.js';
import { runnable } from './test-environment.js';

/** Exit code of a process, or the signal that ended it. */
export type Ending = number | NodeJS.Signals | null;

export interface FamilyMember {
  readonly pid: number;
  readonly ended: Promise<Ending>;
  stdout(): string;
  stderr(): string;
  /** Waits until it has printed something. @throws Error with all that it printed, where it ends or the time is up before */
  printed(text: string, timeoutMs?: number): Promise<void>;
  /** Sends a signal and waits for the end. */
  end(signal: NodeJS.Signals): Promise<Ending>;
  /** Waits for the end. @throws Error where it is not there in time */
  endsWithin(timeoutMs: number): Promise<Ending>;
}

const START_MS = 20_000;
/** Set by npm and Jest for themselves: a process that a person starts has none of it. */
const KEPT = ['PATH', 'HOME', 'TMPDIR', 'LANG'];

/** Processes that one suite has started, so that none outlives it. */
export class ProcessFamily {
  readonly #members: FamilyMember[] = [];

  /**
   * Starts a program of ours as a process of its own.
   * @param source path from the root of the repository, such as `apps/worker/main.ts`
   * @param env all that it finds in its environment beside the path
   */
  start(source: string, env: Readonly<Record<string, string>>, args: readonly string[] = []): FamilyMember {
    const kept = KEPT.flatMap((name) => (process.env[name] === undefined ? [] : [[name, process.env[name]] as const]));
    const child = spawn(process.execPath, ['--enable-source-maps', runnable(source), ...args], {
      env: { ...Object.fromEntries(kept), ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const { pid } = child;
    if (pid === undefined) throw new Error(`${source} cannot be started`);
    const said = { stdout: '', stderr: '' };
    for (const name of ['stdout', 'stderr'] as const) {
      child[name].setEncoding('utf8').on('data', (text: string) => {
        said[name] += text;
      });
    }
    let ending: Ending | undefined;
    const ended = new Promise<Ending>((resolve) => {
      // `close` comes after `exit`, once all that it printed has been read.
      child.once('close', (code, signal) => {
        ending = code ?? signal;
        resolve(ending);
      });
    });
    const story = (what: string): Error =>
      new Error(`${source} (${String(ending ?? 'running')}) ${what}; it printed:\n${said.stdout}${said.stderr}`);
    const member: FamilyMember = {
      pid,
      ended,
      stdout: () => said.stdout,
      stderr: () => said.stderr,
      printed: async (text, timeoutMs = START_MS) => {
        const isThere = (): boolean => `${said.stdout}${said.stderr}`.includes(text);
        await until(() => isThere() || ending !== undefined, timeoutMs);
        if (!isThere()) throw story(`has not said "${text}" within ${timeoutMs} ms`);
      },
      end: (signal) => {
        child.kill(signal);
        return ended;
      },
      endsWithin: async (timeoutMs) => {
        if (!(await until(() => ending !== undefined, timeoutMs))) throw story(`goes on after ${timeoutMs} ms`);
        return ended;
      },
    };
    this.#members.push(member);
    return member;
  }

  /** Ends whatever still runs, without further ado. */
  async endAll(): Promise<void> {
    await Promise.all(this.#members.splice(0).map((member) => member.end('SIGKILL')));
  }
}
