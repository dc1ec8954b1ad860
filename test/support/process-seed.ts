import { randomInt } from 'node:crypto';

/** The seed to draw from: TEST_SEED to replay a run, else a new one. It belongs into the name of the test. */
export function testSeed(): number {
  return Number(process.env['TEST_SEED'] ?? randomInt(2 ** 31));
}

/** How many rounds a suite goes that can go any number: as TEST_ROUNDS says, or so many. */
export function testRounds(usual: number): number {
  const given = Number(process.env['TEST_ROUNDS'] ?? usual);
  if (!Number.isInteger(given) || given < 1) throw new Error('TEST_ROUNDS must be a whole number from 1');
  return given;
}
