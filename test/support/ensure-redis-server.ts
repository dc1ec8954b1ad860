import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** Makes sure that redis-server can be run: installs it with apt where that is possible, else says what to install. */
export async function ensureRedisServer(): Promise<void> {
  if (await runs('redis-server', ['--version'])) return;
  if (process.geteuid?.() !== 0 || !(await runs('apt-get', ['--version']))) {
    throw new Error(
      'the tests need redis-server 6.2 or newer on the PATH: install it, or set REDIS_URL to a Redis of your own',
    );
  }
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    await run('apt-get', ['-qq', 'update'], { env });
    await run('apt-get', ['-qq', 'install', '-y', '--no-install-recommends', 'redis-server'], { env });
  } catch (error) {
    const reason = error instanceof Error ? error.message.trim().split('\n').at(-1) : String(error);
    throw new Error(
      `the tests need redis-server and apt-get could not install it (${reason ?? ''}): install it by hand`,
      {
        cause: error,
      },
    );
  }
}

async function runs(program: string, args: readonly string[]): Promise<boolean> {
  return run(program, args).then(
    () => true,
    () => false,
  );
}
