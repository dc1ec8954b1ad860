import { execFile } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** A program that tests run. */
export interface NeededProgram {
  /** Names that it goes by on the PATH, the likeliest first. */
  readonly names: readonly string[];
  /** The package of Debian that has it. */
  readonly apt: string;
  /** What to do where it cannot be installed: the end of `the tests need … on the PATH: …`. */
  readonly otherwise: string;
  /** What it is asked with, to see that it runs; its version unless said. */
  readonly asked?: string;
  /** What it ends with then; 0 unless said. */
  readonly exitCode?: number;
}

/**
 * Makes sure that a program can be run: installs it with apt where that is possible.
 * @returns the name that it goes by here
 * @throws Error that says what to install
 */
export async function ensureProgram(program: NeededProgram): Promise<string> {
  const { apt, otherwise } = program;
  const found = await firstThatRuns(program);
  if (found !== undefined) return found;
  if (process.geteuid?.() !== 0 || !(await runs('apt-get', '--version', 0))) {
    throw new Error(`the tests need ${apt} on the PATH: ${otherwise}`);
  }
  try {
    await install(apt);
  } catch (error) {
    const reason = error instanceof Error ? error.message.trim().split('\n').at(-1) : String(error);
    throw new Error(`the tests need ${apt} and apt-get could not install it (${reason ?? ''}): ${otherwise}`, {
      cause: error,
    });
  }
  const installed = await firstThatRuns(program);
  if (installed === undefined) throw new Error(`apt-get installed ${apt}, but it does not run: ${otherwise}`);
  return installed;
}

/** Suites run side by side, and apt gives up where another one is at work. */
async function install(apt: string): Promise<void> {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const script = 'apt-get -qq update && apt-get -qq install -y --no-install-recommends "$0"';
  await run('flock', [join(tmpdir(), 'heatbook-test-apt.lock'), 'sh', '-c', script, apt], { env });
}

async function firstThatRuns({ names, asked = '--version', exitCode = 0 }: NeededProgram): Promise<string | undefined> {
  for (const name of names) if (await runs(name, asked, exitCode)) return name;
  return undefined;
}

async function runs(program: string, asked: string, exitCode: number): Promise<boolean> {
  return run(program, [asked]).then(
    () => exitCode === 0,
    // No look at its class: under Jest that is another realm's.
    (error: unknown) => (error as { readonly code?: unknown }).code === exitCode,
  );
}
