import { ClearanceRace } from '../support/clearance-race.js';
import { testRounds, testSeed } from '../support/process-seed.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';

const SEED = testSeed();
const ROUNDS = testRounds(3);
const PROCESSES = 4;
const REQUESTS = 200;
/** A round takes a second or two on a small machine that has nothing else to do. */
const ROUND_MS = 20_000;

let redis: FreshRedis;
let race: ClearanceRace;

beforeAll(async () => {
  redis = await freshRedisUrl();
  race = await ClearanceRace.open(redis.url, PROCESSES);
}, 60_000);

afterAll(async () => {
  await race.close();
  await redis.drop();
});

it(
  `gives the last excursion to one of ${String(REQUESTS)} that ask at once, through ${String(PROCESSES)} processes (seed ${String(SEED)})`,
  async () => {
    const result = await race.run(ROUNDS, REQUESTS, SEED);
    // For a run of many rounds: `TEST_ROUNDS=1000 npm run race`.
    if (ROUNDS > 10) process.stdout.write(`${JSON.stringify(result)}\n`);
    expect(result).toMatchObject({
      rounds: ROUNDS,
      granted: ROUNDS,
      refusedRight: ROUNDS * (REQUESTS - 1),
      wrong: [],
    });
  },
  ROUNDS * ROUND_MS,
);
