import { once } from 'node:events';
import { adoptDraft, type ClusterFolder, handOver, startDraft, writePassword } from './cluster-folder.js';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';
import type { ServerAccount } from './server-account.js';
import type { ServerBinaries } from './server-binaries.js';
import { lastComplaint, logSize } from './server-log.js';
import { startProgram } from './server-program.js';

/** The database role that owns everything in the cluster. */
export const SERVER_ROLE = 'heatbook';

/**
 * Makes a new cluster: UTF-8, bytewise order, sign-in by password only, pages with checksums. It gets its final name
 * when it is whole, so a run that is killed half-way leaves nothing to be mended.
 */
export async function makeCluster(
  files: ClusterFolder,
  binaries: ServerBinaries,
  account: ServerAccount | undefined,
): Promise<void> {
  await startDraft(files);
  await writePassword(files);
  await handOver(files, account);
  const logStart = await logSize(files.logFile);
  const child = await startProgram({
    program: binaries.initdb,
    args: (folder) => [
      `--pgdata=${folder}`,
      '--encoding=UTF8',
      '--locale=C',
      `--username=${SERVER_ROLE}`,
      '--auth=scram-sha-256',
      '--pwfile=../password',
      '--data-checksums',
      '--no-instructions',
    ],
    folder: files.draft,
    logFile: files.logFile,
    account,
  });
  const [code] = (await once(child, 'exit')) as [number | null];
  if (code !== 0) {
    throw new EmbeddedPostgresError(
      `Postgres could not make its data folder in ${files.folder}: ${await lastComplaint(files.logFile, logStart)} (all of it in ${files.logFile})`,
    );
  }
  await adoptDraft(files);
}
