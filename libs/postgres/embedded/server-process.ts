import type { ChildProcess } from 'node:child_process';
import type { ClusterFolder } from './cluster-folder.js';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';
import { readPostmasterFile } from './postmaster-file.js';
import { until } from './processes.js';
import type { ServerAccount } from './server-account.js';
import type { ServerBinaries } from './server-binaries.js';
import { lastComplaint, logSize } from './server-log.js';
import { startProgram } from './server-program.js';

/** Reading the log back after a crash can take long; a server that is still at it must not be taken for broken. */
const READY_MS = 180_000;
const FAST_MS = 15_000;
const IMMEDIATE_MS = 5_000;
const KILL_MS = 5_000;

const SETTINGS = {
  listen_addresses: '127.0.0.1',
  unix_socket_directories: '',
  max_connections: '100',
  shared_buffers: '128MB',
  fsync: 'on',
  synchronous_commit: 'on',
  full_page_writes: 'on',
  // While it is put back to a time nobody is let in: what would come in then could only look.
  hot_standby: 'off',
  password_encryption: 'scram-sha-256',
  log_destination: 'stderr',
  logging_collector: 'off',
  log_line_prefix: '%m [%p] ',
  log_checkpoints: 'off',
  timezone: 'UTC',
};

/** How a start ended. A refusal carries what Postgres said last, on one line. */
export type Launch =
  | { readonly outcome: 'ready'; readonly child: ChildProcess; readonly pid: number }
  | {
      readonly outcome: 'refused';
      readonly reason: 'port-taken' | 'still-in-use' | 'other';
      readonly complaint: string;
    };

/** Starts the server on a port of loopback and waits until it takes connections or gives up. */
export async function launchServer(
  files: ClusterFolder,
  binaries: ServerBinaries,
  account: ServerAccount | undefined,
  port: number,
): Promise<Launch> {
  const logStart = await logSize(files.logFile);
  const settings = Object.entries({ ...SETTINGS, port: String(port) });
  const child = await startProgram({
    program: binaries.postgres,
    args: (folder) => ['-D', folder, ...settings.flatMap(([name, value]) => ['-c', `${name}=${value}`])],
    folder: files.cluster,
    logFile: files.logFile,
    account,
  });
  const pid = child.pid ?? 0;
  const isReady = async (): Promise<boolean> => {
    const file = await readPostmasterFile(files.cluster);
    return file?.pid === pid && file.ready;
  };
  const settled = await until(async () => hasExited(child) || (await isReady()), READY_MS);
  if (settled && !hasExited(child)) return { outcome: 'ready', child, pid };
  if (!settled) await stopServer(child);
  const complaint = await lastComplaint(files.logFile, logStart);
  return { outcome: 'refused', reason: refusal(complaint), complaint };
}

/**
 * Stops the server: SIGINT ends every session and writes a checkpoint; if that takes too long SIGQUIT stops at once
 * (the next start reads the log back), and at last SIGKILL.
 */
export async function stopServer(child: ChildProcess): Promise<void> {
  const steps: readonly [NodeJS.Signals, number][] = [
    ['SIGINT', FAST_MS],
    ['SIGQUIT', IMMEDIATE_MS],
    ['SIGKILL', KILL_MS],
  ];
  for (const [signal, timeoutMs] of steps) {
    if (hasExited(child)) return;
    child.kill(signal);
    if (await until(() => hasExited(child), timeoutMs)) return;
  }
  throw new EmbeddedPostgresError(`Postgres (process ${child.pid ?? 0}) does not stop: end it by hand`);
}

function hasExited(child: ChildProcess): boolean {
  return child.exitCode !== null || child.signalCode !== null;
}

function refusal(complaint: string): 'port-taken' | 'still-in-use' | 'other' {
  if (complaint.includes('could not create any TCP/IP sockets')) return 'port-taken';
  if (/shared memory block .*still in use|lock file .*already exists/.test(complaint)) return 'still-in-use';
  return 'other';
}
