import { demoFacts, ServiceBench, Undisturbed, undisturbedBook } from '../support/process-bench.js';
import { RedisServer, startRedis } from '../support/start-redis.js';

const IN_A_POST = 6;
/** A post waits for Postgres alone; this leaves room for a busy machine and is still less than any Redis timeout. */
const SLOWEST_POST_MS = 900;
/** What runs services mostly grants them ten seconds before it kills them. */
const GRACE_MS = 9_000;
const SETTLE_MS = 25_000;

let undisturbed: Undisturbed;
let redis: RedisServer;
let bench: ServiceBench;

beforeAll(async () => {
  undisturbed = await undisturbedBook();
});

beforeEach(async () => {
  redis = await startRedis();
  bench = await ServiceBench.open(redis.url);
});

afterEach(async () => {
  await bench.close();
  await redis.stop();
});

async function postThird(nth: 0 | 1 | 2): Promise<number> {
  const facts = demoFacts();
  const third = Math.ceil(facts.length / 3);
  let slowestMs = 0;
  for (let start = nth * third; start < Math.min((nth + 1) * third, facts.length); start += IN_A_POST) {
    const { elapsedMs } = await bench.post(facts.slice(start, Math.min(start + IN_A_POST, (nth + 1) * third)));
    slowestMs = Math.max(slowestMs, elapsedMs);
  }
  return slowestMs;
}

it('goes on acknowledging while Redis is away, and applies everything once it is back', async () => {
  const [api, worker] = await Promise.all([bench.startApi(), bench.startWorker()]);
  await postThird(0);
  await redis.stop();
  expect(await postThird(1)).toBeLessThan(SLOWEST_POST_MS);
  expect(await bench.client.isReady()).toBe(true);

  // It comes back empty: every wake-up, and the sweeper's schedule, is lost.
  redis = await startRedis({ port: redis.port });
  expect(await postThird(2)).toBeLessThan(SLOWEST_POST_MS);
  await bench.client.settled(SETTLE_MS);
  expect(await bench.outcome(undisturbed)).toEqual({ ...undisturbed, faults: [] });

  process.kill(worker.pid, 'SIGTERM');
  process.kill(api.pid, 'SIGTERM');
  expect(await Promise.all([worker.endsWithin(GRACE_MS), api.endsWithin(GRACE_MS)])).toEqual([0, 0]);
}, 90_000);

it('stops in good order while Redis is away', async () => {
  const services = await Promise.all([bench.startApi(), bench.startWorker()]);
  await postThird(0);
  await redis.stop();
  await postThird(1);
  for (const { pid } of services) process.kill(pid, 'SIGTERM');
  expect(await Promise.all(services.map((service) => service.endsWithin(GRACE_MS)))).toEqual([0, 0]);
}, 60_000);
