import { StationCloudEvent } from '../../apps/cli/demo/station-cloud-event.js';
import { mulberry32 } from '../support/mulberry32.js';
import { demoFacts, ServiceBench, Undisturbed, undisturbedBook } from '../support/process-bench.js';
import { refOf } from '../support/process-evidence.js';
import { FamilyMember } from '../support/process-family.js';
import { testSeed } from '../support/process-seed.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';

const SEED = testSeed();
const KILLS = 3;
const LANES = 6;
const IN_A_POST = 4;
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

/**
 * Posts over several connections at once and kills the api after so many answers, while the others wait for theirs.
 * @returns what nobody answered for
 */
async function postUntilKilled(
  posts: readonly StationCloudEvent[][],
  api: FamilyMember,
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
        // fetch says TypeError where the connection breaks: anything else is an answer that should not be.
        if (!(error instanceof TypeError)) throw error;
        unanswered.push(post);
      }
      if (++answers === answersBefore) void api.end('SIGKILL');
    }
  };
  await Promise.all(Array.from({ length: LANES }, lane));
  expect(await api.ended).toBe('SIGKILL');
  return unanswered;
}

it(`keeps what it acknowledged before it was killed, and takes the rest again (seed ${SEED})`, async () => {
  const random = mulberry32(SEED);
  const facts = demoFacts();
  let posts = Array.from({ length: Math.ceil(facts.length / IN_A_POST) }, (_, n) =>
    facts.slice(n * IN_A_POST, (n + 1) * IN_A_POST),
  );
  await bench.startWorker();
  for (let kill = 0; kill < KILLS; kill += 1) {
    const api = await bench.startApi();
    posts = await postUntilKilled(posts, api, 1 + Math.floor(random() * 0.4 * posts.length));
    expect(posts.length).toBeGreaterThan(0);
  }

  await bench.startApi();
  const before = new Set(bench.acknowledged.map(refOf));
  const again = await bench.client.post(facts.filter((fact) => before.has(refOf(fact))));
  expect(again).toMatchObject({ status: 202, body: { accepted: 0, duplicates: before.size, rejected: 0 } });
  for (const post of posts) await bench.post(post);

  await bench.settled(SETTLE_MS);
  expect(new Set(bench.acknowledged.map(refOf))).toEqual(new Set(facts.map(refOf)));
  expect(await bench.outcome(undisturbed)).toEqual({ ...undisturbed, faults: [] });
}, 90_000);
