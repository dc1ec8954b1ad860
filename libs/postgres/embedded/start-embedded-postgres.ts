import type { ChildProcess } from 'node:child_process';
import { type ClusterFolder, clusterVersion, handOver, openClusterFolder, readPassword } from './cluster-folder.js';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';
import { ownFolder } from './folder-owner.js';
import { freePort } from './free-port.js';
import { stopLeftoverServer } from './leftover-server.js';
import { makeCluster } from './make-cluster.js';
import { signalProcess } from './processes.js';
import { type ServerAccount, serverAccount } from './server-account.js';
import { type ServerBinaries, serverBinaries } from './server-binaries.js';
import { openDatabase } from './server-database.js';
import { rotateLog } from './server-log.js';
import { launchServer, stopServer } from './server-process.js';

export interface EmbeddedPostgresOptions {
  /** A folder for Postgres alone; it is made if it does not exist. */
  readonly folder: string;
  /** TCP port on 127.0.0.1; without it a free one is chosen at every start. */
  readonly port?: number;
  /** Takes one line for each thing out of the ordinary. */
  readonly log?: (line: string) => void;
}

export interface EmbeddedPostgres {
  /** Connection string with the password in it. */
  readonly url: string;
  readonly port: number;
  /** Process id of the server. */
  readonly pid: number;
  /** Stops the server and gives the folder back. Safe to call twice. */
  stop(): Promise<void>;
}

const ATTEMPTS = 20;
const ROTATE_EVERY_MS = 3_600_000;

/**
 * Runs the Postgres that npm installed, in a folder of its own, on loopback only. The folder keeps everything: the
 * data, the password (mode 0600) and the log. As root the server runs as an unprivileged user.
 *
 * A server left over from a run that was killed is stopped first; a folder that a living process uses is refused.
 *
 * @throws EmbeddedPostgresError in one line, when the folder, its content or this platform cannot be used
 */
export async function startEmbeddedPostgres(options: EmbeddedPostgresOptions): Promise<EmbeddedPostgres> {
  const log = options.log ?? ((): void => undefined);
  const files = await openClusterFolder(options.folder);
  const release = await ownFolder(files.folder);
  try {
    const account = await serverAccount(files.cluster);
    const binaries = await serverBinaries(account, log);
    await stopLeftoverServer(files.cluster, log);
    await rotateLog(files.logFile);
    await prepareCluster(files, binaries, account);
    return await start(files, binaries, account, options.port, log, release);
  } catch (error) {
    await release();
    throw error;
  }
}

async function prepareCluster(
  files: ClusterFolder,
  binaries: ServerBinaries,
  account: ServerAccount | undefined,
): Promise<void> {
  const version = await clusterVersion(files);
  if (version === undefined) await makeCluster(files, binaries, account);
  else if (version !== binaries.major) {
    throw new EmbeddedPostgresError(
      `${files.cluster} was made by Postgres ${version} and this is Postgres ${binaries.major}: ` +
        `start it with the release that made it, dump it with pg_dump, and load the dump into a new folder`,
    );
  }
  await handOver(files, account);
}

async function start(
  files: ClusterFolder,
  binaries: ServerBinaries,
  account: ServerAccount | undefined,
  wantedPort: number | undefined,
  log: (line: string) => void,
  release: () => Promise<void>,
): Promise<EmbeddedPostgres> {
  const password = await readPassword(files);
  for (let attempt = 1; ; attempt += 1) {
    const port = wantedPort ?? (await freePort());
    const launch = await launchServer(files, binaries, account, port);
    if (launch.outcome === 'ready') {
      try {
        const url = await openDatabase(port, password, files.passwordFile);
        return { url, port, pid: launch.pid, stop: watchOver(launch.child, launch.pid, files, log, release) };
      } catch (error) {
        await stopServer(launch.child);
        throw error;
      }
    }
    if (launch.reason === 'port-taken' && wantedPort !== undefined) {
      throw new EmbeddedPostgresError(`Port ${port} of 127.0.0.1 is taken: name another one, or none`);
    }
    if (launch.reason === 'other' || attempt === ATTEMPTS) throw refused(files, launch.complaint);
    // Either another program was quicker to take the port, or a killed server's last worker is still on its way out.
    await stopLeftoverServer(files.cluster, log);
  }
}

/** Sees to it that the server does not outlive this process, and says so if it ends by itself. */
function watchOver(
  child: ChildProcess,
  pid: number,
  files: ClusterFolder,
  log: (line: string) => void,
  release: () => Promise<void>,
): () => Promise<void> {
  const interrupt = (): void => {
    signalProcess(pid, 'SIGINT');
  };
  const ended = (code: number | null, signal: NodeJS.Signals | null): void => {
    log(`Postgres ended by itself (${signal ?? `exit code ${code ?? '?'}`}): see the end of ${files.logFile}`);
  };
  const rotation = setInterval(() => {
    rotateLog(files.logFile).catch((error: unknown) => {
      log(`${files.logFile} could not be shortened: ${String(error)}`);
    });
  }, ROTATE_EVERY_MS).unref();
  process.once('exit', interrupt);
  child.once('exit', ended);

  let stopped: Promise<void> | undefined;
  const stop = async (): Promise<void> => {
    child.off('exit', ended);
    clearInterval(rotation);
    try {
      await stopServer(child);
    } finally {
      process.off('exit', interrupt);
    }
    await release();
  };
  return () => (stopped ??= stop());
}

function refused(files: ClusterFolder, complaint: string): EmbeddedPostgresError {
  return new EmbeddedPostgresError(
    `Postgres refuses to start in ${files.cluster}: ${complaint}. Put the folder ${files.folder} back from a backup, ` +
      `or move it away to start with an empty book; all that Postgres said is in ${files.logFile}`,
  );
}
