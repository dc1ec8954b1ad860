import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { canReach } from './can-reach.js';
import { EmbeddedPostgresError, errorCode } from './embedded-postgres-error.js';
import type { ServerAccount } from './server-account.js';
import { openLog } from './server-log.js';

/** One run of a Postgres program inside a folder of its own. */
export interface ProgramRun {
  readonly program: string;
  readonly args: (folderName: string) => readonly string[];
  /** Data folder and working folder of the program. */
  readonly folder: string;
  readonly logFile: string;
  readonly account: ServerAccount | undefined;
}

/**
 * Starts a Postgres program in a session of its own (a Ctrl-C in the terminal must reach only us: we stop the server
 * when the last work is done), writing straight to the log, so that it goes on when this process dies.
 */
export async function startProgram(run: ProgramRun): Promise<ChildProcess> {
  const name = await nameFor(run.folder, run.account);
  const log = await openLog(run.logFile);
  try {
    const child = spawn(run.program, run.args(name), {
      ...run.account,
      cwd: run.folder,
      env: { PATH: '/usr/bin:/bin', LC_ALL: 'C', TZ: 'UTC' },
      stdio: ['ignore', log.fd, log.fd],
      detached: true,
    });
    await once(child, 'spawn');
    return child;
  } catch (error) {
    throw new EmbeddedPostgresError(`${run.program} cannot be started (${errorCode(error)})`);
  } finally {
    await log.close();
  }
}

/**
 * The name under which the account finds the folder. Below a closed folder (a checkout in root's home, say) no path
 * leads there for another user, but on Linux the working folder that the process was given stays open to it.
 */
async function nameFor(folder: string, account: ServerAccount | undefined): Promise<string> {
  if (account === undefined || (await canReach(folder, account))) return folder;
  if (process.platform === 'linux') return '/proc/self/cwd';
  throw new EmbeddedPostgresError(
    `${folder} lies below a folder that only root may enter, and Postgres does not run as root: name another data folder`,
  );
}
