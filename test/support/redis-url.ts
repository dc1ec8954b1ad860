import { Redis } from 'ioredis';
import { testEnvironment } from './test-environment.js';

export interface FreshRedis {
  /** Names a database that was empty and is used by nobody else. */
  readonly url: string;
  /** Empties the database and gives it back. */
  drop(): Promise<void>;
}

const NEXT = 'heatbook-tests:next-database';
/** A run that was killed gives its databases back after this long. */
const CLAIM_SECONDS = 3_600;

/**
 * A Redis database of one's own on the server that the suites share. Numbers are handed out by an atomic counter in
 * database 0 and claimed there for as long as they are used; a database that holds anything is never taken. (The
 * suites' own server has 256, so that none runs short; a server named by REDIS_URL mostly has 16.)
 */
export async function freshRedisUrl(): Promise<FreshRedis> {
  const server = testEnvironment('TEST_REDIS_URL');
  const number = await withRedis(server, claimDatabase);
  const url = new URL(server);
  url.pathname = `/${number}`;
  const drop = async (): Promise<void> => {
    await withRedis(url.href, (redis) => redis.flushdb());
    await withRedis(server, (redis) => redis.del(claimOf(number)));
  };
  return { url: url.href, drop };
}

async function claimDatabase(redis: Redis): Promise<number> {
  const [, count] = (await redis.config('GET', 'databases')) as string[];
  const usable = Number(count) - 1;
  for (let attempt = 0; attempt < usable; attempt += 1) {
    const number = ((await redis.incr(NEXT)) % usable) + 1;
    if ((await redis.set(claimOf(number), process.pid, 'EX', CLAIM_SECONDS, 'NX')) === null) continue;
    if (await isEmpty(redis, number)) return number;
    await redis.del(claimOf(number));
  }
  throw new Error(`all ${usable} databases of the Redis for the tests are taken or hold something`);
}

async function isEmpty(redis: Redis, number: number): Promise<boolean> {
  const answers = await redis.multi().select(number).dbsize().select(0).exec();
  return answers?.[1]?.[1] === 0;
}

function claimOf(number: number): string {
  return `heatbook-tests:database:${number}`;
}

async function withRedis<T>(url: string, use: (redis: Redis) => Promise<T>): Promise<T> {
  const redis = new Redis(url, { maxRetriesPerRequest: 2 });
  try {
    return await use(redis);
  } finally {
    redis.disconnect();
  }
}
