import { join } from 'node:path';
import { loadConfig } from '../../../libs/config/load-config.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { startEmbeddedPostgres } from '../../../libs/postgres/embedded/start-embedded-postgres.js';
import { House, openHouse } from '../../house/open-house.js';
import { LogSigning } from '../../house/open-site-log.js';

const silent: Log = { info: () => undefined, warn: () => undefined, error: () => undefined };

/**
 * Does something to the book at DATABASE_URL, or to the one in the data folder while nothing runs it, and prints what
 * comes of it.
 * @param work returns what is printed
 * @param signing the key that the book is opened with; none where it is left out, since little is signed at the machine
 * @returns the exit code: 1 where the book in the data folder cannot be opened
 */
export async function onTheBook(work: (house: House) => Promise<string>, signing: LogSigning = {}): Promise<number> {
  const config = loadConfig();
  const postgres =
    config.databaseUrl === undefined
      ? await startEmbeddedPostgres({ folder: join(config.dataFolder, 'postgres') }).catch((error: unknown) => {
          process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
        })
      : { url: config.databaseUrl, stop: () => Promise.resolve() };
  if (postgres === undefined) return 1;
  try {
    const house = await openHouse({ databaseUrl: postgres.url, redisUrl: config.redisUrl, log: silent, ...signing });
    try {
      process.stdout.write(`${await work(house)}\n`);
    } finally {
      await house.close();
    }
    return 0;
  } finally {
    await postgres.stop();
  }
}
