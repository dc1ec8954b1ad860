import { spawn } from 'node:child_process';
import { text } from 'node:stream/consumers';
import { runnable } from './test-environment.js';

export interface EndedCommand {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface CommandPlace {
  readonly url: string;
  readonly key?: string;
  /** The folder that it is run in. */
  readonly cwd: string;
  /** What it is given on standard input. */
  readonly input?: string;
}

/** Runs `heatbook` as a process of its own and waits for its end. */
export async function runHeatbook(
  args: readonly string[],
  { url, key, cwd, input }: CommandPlace,
): Promise<EndedCommand> {
  const env = {
    PATH: process.env['PATH'],
    HEATBOOK_URL: url,
    ...(key !== undefined && { HEATBOOK_KEY: key }),
  };
  const child = spawn(process.execPath, [runnable('apps/cli/main.ts'), ...args], { env, cwd });
  child.stdin.end(input ?? '');
  const over = new Promise<number | null>((resolve) => child.once('close', resolve));
  const [stdout, stderr] = await Promise.all([text(child.stdout), text(child.stderr)]);
  return { code: await over, stdout, stderr };
}
