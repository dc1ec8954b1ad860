import { Redis } from 'ioredis';

/** What a Redis server has done and holds. */
export interface RedisWork {
  /** Commands that it has been asked for since it started, those of scripts among them. */
  readonly commands: number;
  /** Memory that it has given out, bytes. */
  readonly bytes: number;
}

export async function redisWork(redis: Redis): Promise<RedisWork> {
  const told = await redis.info('commandstats');
  const calls = [...told.matchAll(/^cmdstat_(?!info:)[^:]+:calls=(\d+)/gm)].map(([, count]) => Number(count));
  const memory = await redis.info('memory');
  return {
    commands: calls.reduce((sum, count) => sum + count, 0),
    bytes: Number(/^used_memory:(\d+)/m.exec(memory)?.[1] ?? NaN),
  };
}
