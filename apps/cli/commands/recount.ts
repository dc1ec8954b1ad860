import { join } from 'node:path';
import { HeatbookConfig, loadConfig } from '../../../libs/config/load-config.js';
import { nodeDigests } from '../../../libs/evidence/node-digests.js';
import { seal } from '../../../libs/evidence/seal.js';
import { recountBook } from '../../../libs/ledger/recount/recount-book.js';
import { hasCluster, runningServerUrl } from '../../../libs/postgres/embedded/running-server.js';
import { startEmbeddedPostgres } from '../../../libs/postgres/embedded/start-embedded-postgres.js';
import { NoSuchBook, openRecountStore } from '../../../libs/postgres/open-recount-store.js';
import { RecountReport } from '../recount/recount-report.js';

/**
 * Recounts the book at DATABASE_URL, or the one in the data folder whether it runs or not, and prints each difference in one
 * line as it is found.
 * @returns the exit code: 0 nothing differs, 1 something does, 2 it could not be gone through
 */
export async function recount({ json }: { readonly json: boolean }): Promise<number> {
  const report = new RecountReport(json, process.stdout, process.stderr);
  try {
    const database = await reachDatabase(loadConfig());
    try {
      const opened = await openRecountStore(database.url);
      try {
        const deps = { store: opened.store, seal, sha256: nodeDigests.sha256 };
        const counts = await recountBook(deps, report.tell, report.progress);
        return report.end(counts) === 0 ? 0 : 1;
      } finally {
        await opened.close();
      }
    } finally {
      await database.stop();
    }
  } catch (error) {
    process.stderr.write(
      `The book could not be gone through: ${error instanceof Error ? error.message : String(error)}\n`,
    );
    return 2;
  }
}

/** What runs is looked at as it runs; what does not run is started for as long as it takes. */
async function reachDatabase({
  databaseUrl,
  dataFolder,
}: HeatbookConfig): Promise<{ readonly url: string; stop(): Promise<void> }> {
  const stop = (): Promise<void> => Promise.resolve();
  if (databaseUrl !== undefined) return { url: databaseUrl, stop };
  const folder = join(dataFolder, 'postgres');
  if (!(await hasCluster(folder))) {
    throw new NoSuchBook(`${folder} has no book in it: set HEATBOOK_DATA or DATABASE_URL.`);
  }
  const url = await runningServerUrl(folder);
  return url === undefined ? startEmbeddedPostgres({ folder }) : { url, stop };
}
