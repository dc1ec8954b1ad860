import { admitConnections } from '../../test/support/admit-connections.js';
import { freshDatabase } from '../../test/support/fresh-database.js';
import { startRedis } from '../../test/support/start-redis.js';
import { CarrierBench, type StoreUnderTest } from './carrier-bench.js';
import { describeJobQueue } from './job-queue.contract.js';

describeJobQueue('Redis', redisStore);
describeJobQueue('Postgres', postgresStore);

describe('job queue on Redis only', () => {
  const bench = new CarrierBench();
  afterEach(() => bench.closeAll());

  it('does not start on a Redis that may evict jobs, and says how to set it', async () => {
    const redis = await startRedis({ maxmemoryPolicy: 'allkeys-lru' });
    try {
      const opened = bench.open({ kind: 'redis', url: redis.url });
      await expect(opened).rejects.toThrow(/maxmemory-policy 'allkeys-lru'.*config set maxmemory-policy noeviction/);
    } finally {
      await redis.stop();
    }
  });

  it('names the address of a Redis that does not answer', async () => {
    const redis = await startRedis();
    await redis.stop();
    const opened = bench.open({ kind: 'redis', url: redis.url });
    await expect(opened).rejects.toThrow(`cannot reach Redis at 127.0.0.1:${redis.port}: connect ECONNREFUSED`);
  });
});

/** A Redis of its own, which forgets everything when it goes away: the worst that a carrier must live with. */
async function redisStore(): Promise<StoreUnderTest> {
  let redis = await startRedis();
  let targets = 0;
  return {
    freshTarget: () => ({ kind: 'redis', url: redis.url, prefix: `target-${(targets += 1)}` }),
    goAway: () => redis.kill(),
    comeBack: async () => {
      redis = await startRedis({ port: redis.port });
    },
    dispose: () => redis.stop(),
  };
}

async function postgresStore(): Promise<StoreUnderTest> {
  const database = await freshDatabase();
  let targets = 0;
  return {
    freshTarget: () => ({ kind: 'postgres', databaseUrl: database.url, schema: `target_${(targets += 1)}` }),
    goAway: () => admitConnections(database.url, false),
    comeBack: () => admitConnections(database.url, true),
    dispose: () => database.drop(),
  };
}
