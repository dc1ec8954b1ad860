import { access } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { readPassword } from './cluster-folder.js';
import { readPostmasterFile } from './postmaster-file.js';
import { processStart } from './processes.js';
import { openDatabase } from './server-database.js';

/** Whether a folder has a cluster, running or not. */
export async function hasCluster(folder: string): Promise<boolean> {
  return access(join(folder, 'cluster', 'PG_VERSION')).then(
    () => true,
    () => false,
  );
}

/**
 * The connection string of the Postgres that runs in a folder, for who only wants to look; undefined where none runs.
 * @throws EmbeddedPostgresError where one runs and cannot be signed in to
 */
export async function runningServerUrl(folder: string): Promise<string | undefined> {
  const cluster = join(resolve(folder), 'cluster');
  const file = await readPostmasterFile(cluster);
  if (file?.ready !== true || (await processStart(file.pid)) === undefined) return undefined;
  const passwordFile = join(resolve(folder), 'password');
  return openDatabase(file.port, await readPassword({ passwordFile }), passwordFile);
}
