import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEmbeddedPostgres } from '../../libs/postgres/embedded/start-embedded-postgres.js';
import { startRedis } from './start-redis.js';

interface Kept {
  readonly url: string;
  stop(): Promise<void>;
}

/** A Postgres in a temporary folder, unless DATABASE_URL names one (whose role may create databases). */
async function keepPostgres(): Promise<Kept> {
  const given = process.env['DATABASE_URL'];
  if (given !== undefined && given !== '') return { url: given, stop: () => Promise.resolve() };
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-test-postgres-'));
  const removeFolder = (): Promise<void> => rm(folder, { recursive: true, force: true });
  try {
    const server = await startEmbeddedPostgres({ folder: join(folder, 'postgres') });
    return { url: server.url, stop: () => server.stop().finally(removeFolder) };
  } catch (error) {
    await removeFolder();
    throw error;
  }
}

/** A Redis of our own, unless REDIS_URL names one. */
async function keepRedis(): Promise<Kept> {
  const given = process.env['REDIS_URL'];
  if (given !== undefined && given !== '') return { url: given, stop: () => Promise.resolve() };
  return startRedis();
}

/**
 * Prints where the servers are, as one line of JSON, and keeps them until its input ends. Then it stops them and removes
 * the folder that it is given as its argument.
 */
const started = await Promise.allSettled([keepPostgres(), keepRedis()]);
const [postgres, redis] = started;
if (postgres.status === 'fulfilled' && redis.status === 'fulfilled') {
  console.log(JSON.stringify({ databaseUrl: postgres.value.url, redisUrl: redis.value.url }));
} else {
  const reasons = started.flatMap((one) => (one.status === 'rejected' ? [String(one.reason)] : []));
  console.log(JSON.stringify({ problem: reasons.join('; ') }));
}
// The input ends when Jest closes it or is gone.
process.stdin.resume();
await once(process.stdin, 'end');
await Promise.allSettled(started.flatMap((one) => (one.status === 'fulfilled' ? [one.value.stop()] : [])));
const tree = process.argv[2];
if (tree !== undefined) await rm(tree, { recursive: true, force: true });
