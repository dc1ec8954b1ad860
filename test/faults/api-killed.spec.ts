import { StationCloudEvent } from '../../libs/simulator/station-cloud-event.js';
import { mulberry32 } from '../support/mulberry32.js';
import { demoFacts, ServiceBench, Undisturbed, undisturbedBook } from '../support/process-bench.js';
import { NoAnswer } from '../support/process-client.js';
import { refOf } from '../support/process-evidence.js';
import { FamilyMember } from '../support/process-family.js';
import { testSeed } from '../support/process-seed.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';

const SEED = testSeed();
const KILLS = 3;
const LANES = 6;
const IN_A_POST = 4;
const STOP_MS = 10_000;
const SETTLE_MS = 20_000;

let undisturbed: Undisturbed;
let redis: FreshRedis;
let bench: ServiceBench;

beforeAll(async () => {
  undisturbed = await undisturbedBook();
});

beforeEach(async () => {
  redis = await freshRedisUrl();
  bench = await ServiceBench.open(redis.url);
});

afterEach(async () => {
  await bench.close();
  await redis.drop();
});

function inPosts(facts: readonly StationCloudEvent[]): StationCloudEvent[][] {
  return Array.from({ length: Math.ceil(facts.length / IN_A_POST) }, (_, n) =>
    facts.slice(n * IN_A_POST, (n + 1) * IN_A_POST),
  );
}

/**
 * Posts over several connections at once and ends the api after so many answers, while the others wait for theirs.
 * @returns what nobody answered for
 */
async function postUntilEnded(
  posts: readonly StationCloudEvent[][],
  api: FamilyMember,
  signal: NodeJS.Signals,
  answersBefore: number,
): Promise<StationCloudEvent[][]> {
  const open = [...posts];
  const unanswered: StationCloudEvent[][] = [];
  let answers = 0;
  const lane = async (): Promise<void> => {
    for (let post = open.shift(); post !== undefined; post = open.shift()) {
      try {
        await bench.post(post);
      } catch (error) {
        if (!(error instanceof NoAnswer)) throw error;
        unanswered.push(post);
      }
      if (++answers === answersBefore) process.kill(api.pid, signal);
    }
  };
  await Promise.all(Array.from({ length: LANES }, lane));
  expect(await api.endsWithin(STOP_MS)).toBe(signal === 'SIGKILL' ? 'SIGKILL' : 0);
  return unanswered;
}

it(`keeps what it acknowledged before it was killed, and takes the rest again (seed ${SEED})`, async () => {
  const random = mulberry32(SEED);
  const facts = demoFacts();
  let posts = inPosts(facts);
  await bench.startWorker();
  for (let kill = 0; kill < KILLS; kill += 1) {
    const api = await bench.startApi();
    posts = await postUntilEnded(posts, api, 'SIGKILL', 1 + Math.floor(random() * 0.4 * posts.length));
    expect(posts.length).toBeGreaterThan(0);
  }

  await bench.startApi();
  const before = new Set(bench.acknowledged.map(refOf));
  const again = await bench.client.post(facts.filter((fact) => before.has(refOf(fact))));
  expect(again).toMatchObject({ status: 202, body: { accepted: 0, duplicates: before.size, rejected: 0 } });
  for (const post of posts) await bench.post(post);

  await bench.client.settled(SETTLE_MS);
  expect(new Set(bench.acknowledged.map(refOf))).toEqual(new Set(facts.map(refOf)));
  expect(await bench.outcome(undisturbed)).toEqual({ ...undisturbed, faults: [] });
}, 90_000);

it(`answers for all that it has taken in when it is told to stop (seed ${SEED})`, async () => {
  const random = mulberry32(SEED + 1);
  const posts = inPosts(demoFacts());
  const api = await bench.startApi();
  const unanswered = await postUntilEnded(posts, api, 'SIGTERM', 1 + Math.floor(random() * 0.8 * posts.length));
  expect(unanswered.length).toBeGreaterThan(0);

  await bench.startApi();
  for (const post of unanswered) {
    expect((await bench.post(post)).body).toMatchObject({ accepted: post.length, duplicates: 0 });
  }
}, 60_000);
