import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';
import { readPostmasterFile } from './postmaster-file.js';
import { serverProcesses, signalProcess, until } from './processes.js';

const FAST_MS = 15_000;
const IMMEDIATE_MS = 5_000;
const KILL_MS = 5_000;

/**
 * Clears the way for a start in a folder that we own: stops a Postgres whose owner was killed, waits for the last
 * workers of one that was killed itself, and removes a postmaster.pid that names some other process. (One that names
 * no process is left to Postgres, which then also checks that no worker still uses the shared memory.)
 */
export async function stopLeftoverServer(clusterFolder: string, log: (line: string) => void): Promise<void> {
  const file = await readPostmasterFile(clusterFolder);
  const running = (): Promise<number[]> => serverProcesses(clusterFolder, file?.pid);
  const gone = async (): Promise<boolean> => (await running()).length === 0;

  const found = await running();
  if (found.length > 0) {
    log(`stopping a Postgres left over from a run that was killed (process ${file?.pid ?? found.join(', ')})`);
    const orphan = file !== undefined && found.includes(file.pid) ? file.pid : undefined;
    // To the server SIGINT means: end every session and stop. To a worker without its server SIGTERM means that.
    if (orphan === undefined)
      found.forEach((pid) => {
        signalProcess(pid, 'SIGTERM');
      });
    else signalProcess(orphan, 'SIGINT');
    if (!(await until(gone, FAST_MS))) {
      (await running()).forEach((pid) => {
        signalProcess(pid, 'SIGQUIT');
      });
      if (!(await until(gone, IMMEDIATE_MS))) {
        (await running()).forEach((pid) => {
          signalProcess(pid, 'SIGKILL');
        });
        if (!(await until(gone, KILL_MS))) throw stillRunning(clusterFolder, await running());
      }
    }
  }
  if (file !== undefined && isTaken(file.pid)) await rm(join(clusterFolder, 'postmaster.pid'), { force: true });
}

/** Postgres takes any process of that id for a living server, a dead one that nobody has reaped included. */
function isTaken(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

function stillRunning(clusterFolder: string, pids: readonly number[]): EmbeddedPostgresError {
  return new EmbeddedPostgresError(
    `A Postgres left over in ${clusterFolder} does not stop (process ${pids.join(', ')}): end it by hand and start again`,
  );
}
