import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { Redis } from 'ioredis';
import { Client } from 'pg';
import { freshDatabase } from './fresh-database.js';
import { freshRedisUrl } from './redis-url.js';
import { startRedis } from './start-redis.js';
import { runnable } from './test-environment.js';

async function withRedis<T>(url: string, use: (redis: Redis) => Promise<T>): Promise<T> {
  const redis = new Redis(url, { lazyConnect: true, retryStrategy: () => null });
  redis.on('error', () => undefined);
  try {
    await redis.connect();
    return await use(redis);
  } finally {
    redis.disconnect();
  }
}

describe('the servers that suites share', () => {
  it('give each suite an empty database, removed with whoever is still connected', async () => {
    const [one, two] = await Promise.all([freshDatabase(), freshDatabase()]);
    const [clientOne, clientTwo] = [new Client(one.url), new Client(two.url)];
    clientOne.on('error', () => undefined);
    await Promise.all([clientOne.connect(), clientTwo.connect()]);
    await clientOne.query('CREATE TABLE here (n int)');
    await expect(clientTwo.query('SELECT * FROM here')).rejects.toThrow('does not exist');
    await clientTwo.end();
    await Promise.all([one.drop(), two.drop()]);
    await expect(new Client(one.url).connect()).rejects.toThrow('does not exist');
  });

  it('give each suite a Redis database of its own, emptied when it is given back', async () => {
    const [one, two] = await Promise.all([freshRedisUrl(), freshRedisUrl()]);
    expect(one.url).not.toBe(two.url);
    await withRedis(one.url, (redis) => redis.set('here', 1));
    expect(await withRedis(two.url, (redis) => redis.dbsize())).toBe(0);
    await Promise.all([one.drop(), two.drop()]);
    expect(await withRedis(one.url, (redis) => redis.dbsize())).toBe(0);
  });

  it('stop when the process that asked for them is gone', async () => {
    const keeper = spawn(process.execPath, [runnable('test/support/keep-test-servers.ts')], {
      stdio: ['pipe', 'pipe', 'inherit'],
      env: { ...process.env, DATABASE_URL: 'postgres://given.example/book', REDIS_URL: '' },
    });
    const [line] = (await once(createInterface({ input: keeper.stdout }), 'line')) as [string];
    const urls = JSON.parse(line) as { databaseUrl: string; redisUrl: string };
    expect(urls.databaseUrl).toBe('postgres://given.example/book');
    expect(await withRedis(urls.redisUrl, (redis) => redis.ping())).toBe('PONG');
    keeper.stdin.end();
    expect(await once(keeper, 'exit')).toEqual([0, null]);
    await expect(withRedis(urls.redisUrl, (redis) => redis.ping())).rejects.toThrow();
  });
});

describe('a Redis of one’s own', () => {
  it('has the policy that it is asked for and comes back on its port after a kill', async () => {
    const first = await startRedis({ maxmemoryPolicy: 'allkeys-lru' });
    const policy = await withRedis(first.url, (redis) => redis.config('GET', 'maxmemory-policy'));
    expect(policy).toEqual(['maxmemory-policy', 'allkeys-lru']);
    await first.kill();
    await expect(withRedis(first.url, (redis) => redis.ping())).rejects.toThrow();

    const second = await startRedis({ port: first.port });
    expect(await withRedis(second.url, (redis) => redis.ping())).toBe('PONG');
    await expect(startRedis({ port: first.port })).rejects.toThrow('redis-server does not start');
    await second.stop();
  });
});
