import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { DataSource } from 'typeorm';
import { AS_THE_HOUSE, MIGRATIONS } from '../../../libs/postgres/open-database.js';
import type { FaultWorld } from './fault-world.js';

/** How long work goes on over the schema of before: events are taken in, and what cannot be folded there waits. */
const WORK_MS = 1_500;
const GRACE_MS = 20_000;
const MOST_TRIES = 10;
/** A migration waits for whoever works, and they for it: Postgres ends one of them. */
const DEADLOCK = '40P01';

/**
 * Takes the newest migration back while stations post, lets them go on over the schema of before, and then has one process after
 * the other end in good order and start anew, the first of which migrates under load.
 * @throws Error where a process does not end in good order, or the newest migration does not stand again
 */
export async function upgradeUnderLoad(world: FaultWorld): Promise<void> {
  const url = world.servers.postgresUrl.href;
  const newest = await newestMigration(url);
  await stepBack(url);
  if ((await newestMigration(url)) === newest) throw new Error('the newest migration was not taken back');
  await delay(WORK_MS);
  for (const { process } of [...world.workers, ...world.apis]) {
    const ending = await process.stopsInGoodOrder(GRACE_MS);
    if (ending !== 0) throw new Error(`the ${process.role} ended with ${String(ending)}`);
    await process.isUp();
  }
  if ((await newestMigration(url)) !== newest) throw new Error('no process has migrated');
}

async function stepBack(url: string): Promise<void> {
  const dataSource = new DataSource({
    ...{ type: 'postgres', url, poolSize: 1, migrations: [...MIGRATIONS], extra: { options: AS_THE_HOUSE } },
  });
  await dataSource.initialize();
  try {
    for (let tries = 1; ; tries += 1) {
      try {
        await dataSource.undoLastMigration({ transaction: 'all' });
        return;
      } catch (error) {
        const passing = error instanceof Error && 'code' in error && error.code === DEADLOCK;
        if (!passing || tries === MOST_TRIES) throw error;
      }
    }
  } finally {
    await dataSource.destroy();
  }
}

async function newestMigration(url: string): Promise<string | undefined> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    const { rows } = await client.query<{ name: string }>(
      'SELECT name FROM migrations ORDER BY timestamp DESC LIMIT 1',
    );
    return rows[0]?.name;
  } finally {
    await client.end();
  }
}
