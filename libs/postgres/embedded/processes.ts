import { execFile } from 'node:child_process';
import { readFile, readdir, readlink } from 'node:fs/promises';
import { setTimeout as delay } from 'node:timers/promises';
import { promisify } from 'node:util';

const run = promisify(execFile);
const POLL_MS = 20;

/**
 * When a process began, in the system's own words, or undefined if it does not run. A process that has died and only
 * waits to be reaped counts as dead. Together with its id this names a process for good: ids are used again.
 */
export async function processStart(pid: number): Promise<string | undefined> {
  if (process.platform !== 'linux') {
    const { stdout } = await run('ps', ['-o', 'stat=,lstart=', '-p', String(pid)]).catch(() => ({ stdout: '' }));
    const [state, ...began] = stdout.trim().split(/\s+/);
    return state === undefined || state === '' || state.startsWith('Z') ? undefined : began.join(' ');
  }
  const text = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => undefined);
  // The name of the program, in brackets, may itself hold spaces and brackets. State is field 3, start time field 22.
  const fields = text?.slice(text.lastIndexOf(')') + 2).split(' ');
  return fields === undefined || fields[0] === 'Z' || fields[0] === 'X' ? undefined : fields[19];
}

/**
 * The living processes of the Postgres that serves a cluster: every one of them works in the cluster's folder.
 * Where the system has no /proc, only the one that postmaster.pid names, if it is a Postgres.
 *
 * @param namedPid what postmaster.pid says
 */
export async function serverProcesses(clusterFolder: string, namedPid: number | undefined): Promise<number[]> {
  if (process.platform !== 'linux') {
    if (namedPid === undefined || (await processStart(namedPid)) === undefined) return [];
    const { stdout } = await run('ps', ['-o', 'command=', '-p', String(namedPid)]).catch(() => ({ stdout: '' }));
    return stdout.includes('postgres') && stdout.includes(clusterFolder) ? [namedPid] : [];
  }
  const pids = (await readdir('/proc')).filter((name) => /^\d+$/.test(name)).map(Number);
  const folders = await Promise.all(pids.map((pid) => readlink(`/proc/${pid}/cwd`).catch(() => undefined)));
  return pids.filter((pid, at) => pid !== process.pid && folders[at] === clusterFolder);
}

/** Sends a signal to a process that may be gone already. */
export function signalProcess(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal);
  } catch {
    // Gone, or not ours to signal: the caller looks again at what still runs.
  }
}

/** Asks again and again until the answer is yes or the time is up; returns the last answer. */
export async function until(condition: () => Promise<boolean> | boolean, timeoutMs: number): Promise<boolean> {
  const deadline = performance.now() + timeoutMs;
  while (!(await condition())) {
    if (performance.now() > deadline) return false;
    await delay(POLL_MS);
  }
  return true;
}
