import { createRedisBackend } from 'bullmq';
import { Redis, type RedisOptions } from 'ioredis';
import type { CarrierBackend, CarrierConnection } from './carrier-backend.js';
import { type LimitedLog, reasonOf } from './carrier-log.js';

const CONNECT_TIMEOUT_MS = 5_000;
/** A socket that leaves a command unanswered for this long is dropped, so that commands cannot pile up behind it. */
const SILENCE_TIMEOUT_MS = 5_000;
/** A closed socket that the server does not close too is destroyed after this. */
const DISCONNECT_TIMEOUT_MS = 200;
const LONGEST_RETRY_MS = 2_000;

/** Thrown at start-up when the Redis that was configured cannot carry jobs. */
class RedisUnfitError extends Error {
  override name = 'RedisUnfitError';
}

/**
 * Connects to Redis and checks that it never evicts keys: a queue that loses keys under memory pressure loses jobs and
 * the records that tell which shard is being worked.
 *
 * @param url redis:// or rediss://
 * @throws RedisUnfitError when Redis does not answer or its `maxmemory-policy` is not `noeviction`
 */
export async function openRedisBackend(url: string, prefix: string, log: LimitedLog): Promise<CarrierBackend> {
  const common: RedisOptions = {
    connectTimeout: CONNECT_TIMEOUT_MS,
    disconnectTimeout: DISCONNECT_TIMEOUT_MS,
    retryStrategy,
  };
  const producer = new Redis(url, {
    ...common,
    lazyConnect: true,
    enableOfflineQueue: false,
    maxRetriesPerRequest: 1,
    socketTimeout: SILENCE_TIMEOUT_MS,
  });
  const place = `${producer.options.host ?? 'localhost'}:${producer.options.port ?? 6379}`;
  await connectFirst(producer, place);
  producer.on('error', (error: Error) => {
    log.report('Redis connection that adds jobs', error);
  });
  try {
    await assertNoEviction(producer, place);
  } catch (error) {
    producer.disconnect();
    throw error;
  }
  return {
    producer: connectionOver(producer, prefix),
    connectWorker: () => {
      // BullMQ duplicates this client for its blocking reads; both retry until they are closed.
      const worker = new Redis(url, { ...common, maxRetriesPerRequest: null });
      worker.on('error', (error: Error) => {
        log.report('Redis connection that takes jobs', error);
      });
      return connectionOver(worker, prefix);
    },
    onReturn: (listener) => {
      producer.on('ready', listener);
    },
    // Jobs announce themselves. After an outage BullMQ holds a timer for a second more than this, even once closed.
    idleLookSeconds: 2,
  };
}

function retryStrategy(times: number): number {
  return Math.min(50 * 2 ** Math.min(times, 10), LONGEST_RETRY_MS);
}

function connectionOver(redis: Redis, prefix: string): CarrierConnection {
  return {
    factory: (name, options, kind) => {
      const redisOptions = { ...options, connection: redis, prefix };
      return createRedisBackend(name, redisOptions, kind);
    },
    release: () => {
      redis.disconnect();
      return Promise.resolve();
    },
  };
}

/** The first connection is not retried: at start-up a wrong address should show at once. */
async function connectFirst(redis: Redis, place: string): Promise<void> {
  let cause: Error | undefined;
  const remember = (error: Error): void => {
    cause = error;
  };
  redis.on('error', remember);
  try {
    await redis.connect();
  } catch (error) {
    redis.disconnect();
    const reason = reasonOf(cause ?? (error instanceof Error ? error : new Error(String(error))));
    throw new RedisUnfitError(`cannot reach Redis at ${place}: ${reason}`, { cause: error });
  } finally {
    redis.off('error', remember);
  }
}

async function assertNoEviction(redis: Redis, place: string): Promise<void> {
  // INFO rather than CONFIG GET: hosted Redis often forbids the latter.
  const policy = /^maxmemory_policy:(\S+)/m.exec(await redis.info('memory'))?.[1] ?? 'unknown';
  if (policy === 'noeviction') return;
  throw new RedisUnfitError(
    `Redis at ${place} has maxmemory-policy '${policy}', which may drop jobs; it must be 'noeviction': ` +
      `run \`redis-cli config set maxmemory-policy noeviction\` and put \`maxmemory-policy noeviction\` into redis.conf`,
  );
}
