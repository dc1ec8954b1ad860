import { join } from 'node:path';
import { loadConfig } from '../../../libs/config/load-config.js';
import { newKey } from '../../../libs/ledger/keys/new-key.js';
import { KeyHolder } from '../../../libs/ledger/ports/key-store.js';
import { startEmbeddedPostgres } from '../../../libs/postgres/embedded/start-embedded-postgres.js';
import { House, openHouse } from '../../house/open-house.js';

const ADMIN: KeyHolder = { role: 'admin', name: 'admin' };

/** The key of the one admin that a new book begins with, or undefined where it has been given out before. */
export async function firstAdminKey(house: House): Promise<string | undefined> {
  const { key, issued } = newKey(house.book, ADMIN);
  return (await house.keys.add(issued, 1)) ? key : undefined;
}

/** Issues a new admin key and ends the old ones: the way back in when the first one is lost. @returns the exit code. */
export async function issueAdminKey(): Promise<number> {
  const config = loadConfig();
  const log = { info: () => undefined, warn: () => undefined, error: () => undefined };
  const postgres =
    config.databaseUrl === undefined
      ? await startEmbeddedPostgres({ folder: join(config.dataFolder, 'postgres') }).catch((error: unknown) => {
          process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
        })
      : { url: config.databaseUrl, stop: () => Promise.resolve() };
  if (postgres === undefined) return 1;
  try {
    const house = await openHouse({ databaseUrl: postgres.url, redisUrl: config.redisUrl, log });
    for (const { keyId } of await house.keys.live(ADMIN)) await house.keys.revoke(ADMIN, keyId);
    process.stdout.write(`${String(await firstAdminKey(house))}\n`);
    await house.close();
    return 0;
  } finally {
    await postgres.stop();
  }
}
