import { testRounds, testSeed } from '../../support/process-seed.js';
import { FAULTS } from './fault-list.js';
import { runFaults } from './run-faults.js';

const SEED = testSeed();
/** Of those that are over in a second. The others, and many more rounds: `npm run faults`. */
const ROUNDS = testRounds(5);
const BOARDS = 10;
const ROUND_MS = 30_000;

it(
  `loses and doubles nothing of what it acknowledged, whatever is killed (seed ${String(SEED)})`,
  async () => {
    const quick = FAULTS.filter(({ seconds }) => seconds <= 1);
    const report = await runFaults({ rounds: ROUNDS, seed: SEED, boards: BOARDS, faults: quick });
    expect(report).toMatchObject({ lost: 0, doubled: 0, wrong: [] });
    // Every event of every board was answered for in the end.
    expect(report.acknowledged).toBeGreaterThanOrEqual(ROUNDS * BOARDS * 10);
  },
  60_000 + ROUNDS * ROUND_MS,
);
