import { randomInt } from 'node:crypto';

/** The seed to draw from: TEST_SEED to replay a run, else a new one. It belongs into the name of the test. */
export function testSeed(): number {
  return Number(process.env['TEST_SEED'] ?? randomInt(2 ** 31));
}
