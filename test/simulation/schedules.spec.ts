import { testRounds, testSeed } from '../support/process-seed.js';
import { PLANTED_FAULTS } from './planted-faults.js';
import { runSchedule } from './run-schedule.js';
import { runSchedules } from './run-schedules.js';
import { openSimShop, SimShop } from './sim-shop.js';

const SEED = testSeed();
const SCHEDULES = testRounds(60);
/** Of the planted faults, the one that is hardest to come by was caught at the 91st from here. */
const PLANTED_SEED = 1;
const MOST_PLANTED = 300;

let shop: SimShop;

beforeAll(async () => {
  shop = await openSimShop();
});

describe('simulated schedules', () => {
  it(`lose, double and overdraw nothing, and end in the book of the same facts undisturbed (TEST_SEED=${String(SEED)})`, async () => {
    const outcome = await runSchedules(shop, { schedules: SCHEDULES, seed: SEED });
    expect(outcome.failed.map(({ seed, faults }) => ({ TEST_SEED: seed, faults }))).toEqual([]);
    // Where nobody dies and nothing is refused, nothing was shown.
    if (SCHEDULES < 50) return;
    expect(outcome.kills).toBeGreaterThan(SCHEDULES / 10);
    expect(outcome.granted).toBeGreaterThan(SCHEDULES / 4);
    expect(outcome.refused).toBeGreaterThan(0);
  }, 3_600_000);

  it('are replayed by their seed, step by step', async () => {
    const stepsOf = async (seed: number) => {
      const steps: string[] = [];
      const { trace } = await runSchedule(shop, seed, { listener: (ms, what) => steps.push(`${String(ms)} ${what}`) });
      return { trace, steps };
    };
    for (let seed = SEED; seed < SEED + 10; seed += 1) expect(await stepsOf(seed)).toEqual(await stepsOf(seed));
    expect((await stepsOf(SEED)).trace).not.toBe((await stepsOf(SEED + 1)).trace);
  });

  it.each(PLANTED_FAULTS)(
    'catch a product that $name',
    async (planted) => {
      const options = { schedules: MOST_PLANTED, seed: PLANTED_SEED, planted, isUntilFault: true };
      const { failed } = await runSchedules(shop, options);
      const [first] = failed;
      if (first === undefined) throw new Error(`${String(MOST_PLANTED)} schedules did not catch it`);
      expect(first.faults.length).toBeGreaterThan(0);
      // And it is the fault that was caught: the right product stands the same schedule.
      expect((await runSchedule(shop, first.seed)).faults).toEqual([]);
    },
    60_000,
  );
});
