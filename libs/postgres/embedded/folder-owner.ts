import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { EmbeddedPostgresError, errorCode, notWritable } from './embedded-postgres-error.js';
import { processStart } from './processes.js';

const FILE = 'owner';

/**
 * Marks the folder as used by this process, so that a second start says so instead of taking the first one's server
 * for a leftover and stopping it.
 *
 * @returns gives the folder back
 * @throws EmbeddedPostgresError when a living process uses it, or the folder cannot be written
 */
export async function ownFolder(folder: string): Promise<() => Promise<void>> {
  const path = join(folder, FILE);
  const mark = `${process.pid} ${(await processStart(process.pid)) ?? ''}\n`;
  for (;;) {
    try {
      await writeFile(path, mark, { flag: 'wx', mode: 0o644 });
      return () => rm(path, { force: true });
    } catch (error) {
      if (errorCode(error) !== 'EEXIST') throw notWritable(folder, error);
    }
    const [pid = '', ...began] = (await readFile(path, 'utf8').catch(() => '')).trim().split(' ');
    if (pid !== '' && (await processStart(Number(pid))) === began.join(' ')) {
      throw new EmbeddedPostgresError(
        `${folder} is in use by process ${pid}: stop that one first, or give this one a data folder of its own`,
      );
    }
    await rm(path, { force: true });
  }
}
