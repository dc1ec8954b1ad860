import { DRESSING_METHODS, DressingMethod } from '../domain/events/station-event.js';
import { MISTAKE_KINDS, MistakeKind } from './mistake.js';
import { SeededRandom } from './seeded-random.js';

/** Somebody at a bench, with habits. */
export interface SimulatedOperator {
  readonly name: string;
  /** How long a step takes them, as a share of the usual time. */
  readonly pace: number;
  /** How they dress three sites of four. */
  readonly favourite: DressingMethod;
  /** How often something goes wrong, as a multiple of the house's share. */
  readonly carelessness: number;
  /** What goes wrong with them every second time. */
  readonly slip: MistakeKind;
}

/** A hot-gas station with its dressing place, and who works there. */
export interface Bench {
  readonly hotGas: string;
  readonly dress: string;
  readonly operator: SimulatedOperator;
  readonly inspector: string;
  /** When the next board can be taken up, ms. */
  freeAtMs: number;
}

export const INSPECTORS = ['sim-insp-1', 'sim-insp-2'] as const;

/** Braid twice: it is what most benches have at hand. */
const FAVOURITES: readonly DressingMethod[] = ['braid', 'vacuum', 'braid', 'coupon', 'fountain'];

/** @param count how many benches, at least one; each has an operator of its own */
export function makeCrew(random: SeededRandom, count: number, openAtMs: number): Bench[] {
  return Array.from({ length: count }, (_, index) => {
    const number = String(index + 1);
    return {
      hotGas: `SIM-HOTGAS-${number}`,
      dress: `SIM-DRESS-${number}`,
      operator: {
        name: `sim-op-${number}`,
        pace: random.figure(0.85, 1.3, 2),
        favourite: pick(random, FAVOURITES),
        carelessness: random.figure(0.4, 1.6, 2),
        slip: pick(random, MISTAKE_KINDS),
      },
      inspector: INSPECTORS[index % 2 === 0 ? 0 : 1],
      freeAtMs: openAtMs,
    };
  });
}

/** The method for one more site: the favourite, or now and then another. */
export function methodOf(random: SeededRandom, { favourite }: SimulatedOperator): DressingMethod {
  return random.next() < 0.75 ? favourite : pick(random, DRESSING_METHODS);
}

/** One of a list, each as likely. */
export function pick<T>(random: SeededRandom, [first, ...others]: readonly [T, ...T[]] | readonly T[]): T {
  const chosen = random.whole(0, others.length);
  const found = chosen === 0 ? first : others[chosen - 1];
  if (found === undefined) throw new RangeError('nothing to pick from');
  return found;
}
