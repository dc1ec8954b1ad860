import { randomBytes } from 'node:crypto';
import {
  chmod,
  chown,
  lchown,
  mkdir,
  open,
  readFile,
  readdir,
  realpath,
  rename,
  rm,
  writeFile,
  stat,
} from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { EmbeddedPostgresError, errorCode, notWritable } from './embedded-postgres-error.js';
import type { ServerAccount } from './server-account.js';

/** Where everything of one embedded Postgres lies. All of it belongs to the account that runs the server. */
export interface ClusterFolder {
  readonly folder: string;
  /** The data folder of Postgres itself. */
  readonly cluster: string;
  /** A data folder that is still being made; it gets its final name only when it is whole. */
  readonly draft: string;
  readonly passwordFile: string;
  readonly logFile: string;
}

const OURS = new Set(['cluster', 'cluster.new', 'password', 'postgres.log', 'postgres.log.1', 'owner']);

/**
 * Makes the folder if needed, and makes sure that it is ours. (Whether it can be written shows when it is owned.)
 *
 * @throws EmbeddedPostgresError when it cannot be made or read, or holds something else
 */
export async function openClusterFolder(path: string): Promise<ClusterFolder> {
  let folder = resolve(path);
  try {
    await makeLevels(folder);
    folder = await realpath(folder);
    const strange = (await readdir(folder)).filter((name) => !OURS.has(name));
    if (strange.length > 0) {
      throw new EmbeddedPostgresError(
        `${folder} holds something else (${strange.slice(0, 3).join(', ')}): Postgres needs a folder of its own; name another or an empty one`,
      );
    }
  } catch (error) {
    if (error instanceof EmbeddedPostgresError) throw error;
    throw notWritable(folder, error);
  }
  return {
    folder,
    cluster: join(folder, 'cluster'),
    draft: join(folder, 'cluster.new'),
    passwordFile: join(folder, 'password'),
    logFile: join(folder, 'postgres.log'),
  };
}

/** Level by level: asked to do it in one go, Node never returns where a file system refuses new folders altogether. */
async function makeLevels(folder: string): Promise<void> {
  try {
    await mkdir(folder, { mode: 0o700 });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' && (await stat(folder)).isDirectory()) return;
    const parent = dirname(folder);
    // A parent that is there already, and a level that still cannot be made: there is nothing more to try.
    const orphan = code === 'ENOENT' && parent !== folder && !(await exists(parent));
    if (!orphan) throw error;
    await makeLevels(parent);
    await mkdir(folder, { mode: 0o700 });
  }
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

/** Makes an empty folder for a cluster to be made in; a draft that was never finished is thrown away. */
export async function startDraft(files: ClusterFolder): Promise<void> {
  await rm(files.draft, { recursive: true, force: true });
  await mkdir(files.draft, { mode: 0o700 });
}

/** Hands the folder and its first level to the server's account, closed to everybody else. */
export async function handOver(files: ClusterFolder, account: ServerAccount | undefined): Promise<void> {
  await chmod(files.folder, 0o700);
  if (account === undefined) return;
  await chown(files.folder, account.uid, account.gid);
  for (const name of await readdir(files.folder)) await lchown(join(files.folder, name), account.uid, account.gid);
}

/** Makes the password for a cluster that is about to be made. */
export async function writePassword(files: ClusterFolder): Promise<void> {
  await rm(files.passwordFile, { force: true });
  await writeFile(files.passwordFile, `${randomBytes(24).toString('hex')}\n`, { mode: 0o600, flag: 'wx', flush: true });
}

/** The password that the cluster was made with. */
export async function readPassword(files: Pick<ClusterFolder, 'passwordFile'>): Promise<string> {
  try {
    return (await readFile(files.passwordFile, 'utf8')).trim();
  } catch (error) {
    throw new EmbeddedPostgresError(
      `${files.passwordFile} cannot be read (${errorCode(error)}): put it back from a backup of the folder; without it nobody can sign in to the database`,
    );
  }
}

/**
 * The major version that the cluster was made with, or undefined when none has been made yet.
 *
 * @throws EmbeddedPostgresError when a folder `cluster` is there but is no cluster
 */
export async function clusterVersion(files: ClusterFolder): Promise<string | undefined> {
  try {
    return (await readFile(join(files.cluster, 'PG_VERSION'), 'utf8')).trim();
  } catch (error) {
    const present = (await readdir(files.folder)).includes('cluster');
    if (errorCode(error) === 'ENOENT' && !present) return undefined;
    throw new EmbeddedPostgresError(
      `${files.cluster} is not a data folder of Postgres (PG_VERSION: ${errorCode(error)}): put it back from a backup, or move it away to start with an empty book`,
    );
  }
}

/** Gives a finished cluster its name, durably: a draft found at the next start is thrown away. */
export async function adoptDraft(files: ClusterFolder): Promise<void> {
  await rename(files.draft, files.cluster);
  const folder = await open(files.folder, 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}
