import { SeededRandom } from '../../../../libs/simulator/seeded-random.js';
import { LoggedTrace, makeTrace } from '../../../../libs/simulator/traces/make-trace.js';
import { DEMO_HEATS } from './demo-heats.js';

const SEED = 20_260_105;

/** Twelve traces of invented heats; the same on every machine. */
export function makeDemoTraces(): LoggedTrace[] {
  const random = new SeededRandom(SEED);
  return DEMO_HEATS.map((heat) => makeTrace(heat, random));
}
