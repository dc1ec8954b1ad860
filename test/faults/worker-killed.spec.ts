import { setTimeout as delay } from 'node:timers/promises';
import { StationCloudEvent } from '../../libs/simulator/station-cloud-event.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';
import { mulberry32 } from '../support/mulberry32.js';
import { demoFacts, ServiceBench, Undisturbed, undisturbedBook } from '../support/process-bench.js';
import { testSeed } from '../support/process-seed.js';

const SEED = testSeed();
const KILLS = 8;
const MOST_IN_A_POST = 5;
/** A fold takes about as long: the worker is hit before, in and after one. */
const LATEST_KILL_MS = 40;
/** A wake-up whose worker was killed comes back after 10 to 20 s; the sweeper is mostly quicker. */
const SETTLE_MS = 30_000;
/** What runs services mostly grants them ten seconds before it kills them. */
const GRACE_MS = 9_000;

let undisturbed: Undisturbed;
let redis: FreshRedis;
let bench: ServiceBench;

beforeAll(async () => {
  undisturbed = await undisturbedBook();
});

beforeEach(async () => {
  redis = await freshRedisUrl();
  bench = await ServiceBench.open(redis.url);
  await bench.startApi();
});

afterEach(async () => {
  await bench.close();
  await redis.drop();
});

/** Cuts into posts of random sizes, and these into stretches of about the same length. */
function stretchesOf(facts: readonly StationCloudEvent[], stretches: number, random: () => number) {
  const posts: StationCloudEvent[][] = [];
  for (let start = 0; start < facts.length; start += posts.at(-1)?.length ?? 0) {
    posts.push(facts.slice(start, start + 1 + Math.floor(random() * MOST_IN_A_POST)));
  }
  const length = Math.ceil(posts.length / stretches);
  return Array.from({ length: stretches }, (_, n) => posts.slice(n * length, (n + 1) * length));
}

/** Posts one after the other, and does something at a moment that chance chooses. */
async function postAndThen(
  posts: readonly StationCloudEvent[][],
  random: () => number,
  act: () => Promise<unknown>,
): Promise<void> {
  const moment = Math.floor(random() * posts.length);
  let acting: Promise<unknown> = Promise.resolve();
  for (const [n, post] of posts.entries()) {
    await bench.post(post);
    if (n === moment) acting = delay(random() * LATEST_KILL_MS).then(act);
  }
  await acting;
}

async function expectTheSameBook(): Promise<void> {
  await bench.client.settled(SETTLE_MS);
  const facts = demoFacts();
  expect(bench.acknowledged).toHaveLength(facts.length);
  expect(await bench.outcome(undisturbed)).toEqual({ ...undisturbed, faults: [] });
}

it(`loses and doubles nothing when the worker is killed again and again (seed ${SEED})`, async () => {
  const random = mulberry32(SEED);
  let worker = await bench.startWorker();
  for (const posts of stretchesOf(demoFacts(), KILLS, random)) {
    await postAndThen(posts, random, async () => {
      expect(await worker.end('SIGKILL')).toBe('SIGKILL');
      worker = await bench.startWorker();
    });
  }
  await expectTheSameBook();
}, 90_000);

it(`with two workers, one of which stops in good order while the other is killed (seed ${SEED})`, async () => {
  const random = mulberry32(SEED + 1);
  const [leaving, ...others] = await Promise.all([bench.startWorker(), bench.startWorker()]);
  let worker = others[0];
  const [first = [], second = [], third = []] = stretchesOf(demoFacts(), 3, random);
  const killAndRestart = async (): Promise<void> => {
    await worker.end('SIGKILL');
    worker = await bench.startWorker();
  };
  await postAndThen(first, random, killAndRestart);
  await postAndThen(second, random, async () => {
    process.kill(leaving.pid, 'SIGTERM');
    expect(await leaving.endsWithin(GRACE_MS)).toBe(0);
  });
  await postAndThen(third, random, killAndRestart);
  await expectTheSameBook();
}, 90_000);
