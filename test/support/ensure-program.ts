import { execFile } from 'node:child_process';
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
}

/**
 * Makes sure that a program can be run: installs it with apt where that is possible.
 * @returns the name that it goes by here
 * @throws Error that says what to install
 */
export async function ensureProgram({ names, apt, otherwise }: NeededProgram): Promise<string> {
  const found = await firstThatRuns(names);
  if (found !== undefined) return found;
  if (process.geteuid?.() !== 0 || !(await runs('apt-get', ['--version']))) {
    throw new Error(`the tests need ${apt} on the PATH: ${otherwise}`);
  }
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    await run('apt-get', ['-qq', 'update'], { env });
    await run('apt-get', ['-qq', 'install', '-y', '--no-install-recommends', apt], { env });
  } catch (error) {
    const reason = error instanceof Error ? error.message.trim().split('\n').at(-1) : String(error);
    throw new Error(`the tests need ${apt} and apt-get could not install it (${reason ?? ''}): ${otherwise}`, {
      cause: error,
    });
  }
  const installed = await firstThatRuns(names);
  if (installed === undefined) throw new Error(`apt-get installed ${apt}, but it does not run: ${otherwise}`);
  return installed;
}

async function firstThatRuns(names: readonly string[]): Promise<string | undefined> {
  for (const name of names) if (await runs(name, ['--version'])) return name;
  return undefined;
}

async function runs(program: string, args: readonly string[]): Promise<boolean> {
  return run(program, args).then(
    () => true,
    () => false,
  );
}
