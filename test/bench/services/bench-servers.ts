import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEmbeddedPostgres } from '../../../libs/postgres/embedded/start-embedded-postgres.js';
import { startRedis } from '../../support/start-redis.js';

/** A Postgres and a Redis of the bench's own, as processes, with nothing in them. */
export interface BenchServers {
  readonly redisUrl: string;
  close(): Promise<void>;
}

/** Starts both; databases come from `freshDatabase` from here on. */
export async function openServers(): Promise<BenchServers> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-bench-'));
  const postgres = await startEmbeddedPostgres({ folder: join(folder, 'postgres') });
  process.env['TEST_DATABASE_URL'] = postgres.url;
  const redis = await startRedis();
  return {
    redisUrl: redis.url,
    close: async () => {
      await redis.stop();
      await postgres.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
