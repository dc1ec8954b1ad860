import { Costs, LinearCost } from './measured-costs.js';
import { Load, MOST_EVENTS_A_FOLD, MOST_EVENTS_AN_INSERT, Plant } from './plant.js';
import { simulate, Simulated } from './simulate.js';

export interface Wish {
  readonly costs: Costs;
  readonly load: Load;
  readonly coresOfDatabase: number;
  /** What the 99th percentile of the time to applied must stay below. */
  readonly appliedMs: number;
  readonly bursts: number;
}

export interface FoundPlant {
  readonly plant: Plant;
  readonly simulated: Simulated;
}

/** Parts that can be more or fewer; the dearest first, since that is to be few before all. */
const COUNTS = ['databases', 'workers', 'apis'] as const;
/** An addition must bring the time down to at least this share of it. */
const WORTH_IT = 0.99;
const SEED = 1;

/**
 * The least plant that does what is wished: one that does, and does no more with one less of any part. It begins with what the
 * work takes at the very least, adds where that helps most, and then takes away again.
 * @throws Error where that is not to be had, whatever is added
 */
export function leastPlant(wish: Wish): FoundPlant {
  let found = tried(leastByWork(wish), wish);
  while (!does(found, wish)) {
    const { plant } = found;
    const larger = COUNTS.map((count) => tried({ ...plant, [count]: grown(plant[count]) }, wish));
    const best = larger.reduce((least, one) => (p99(one) < p99(least) ? one : least));
    if (p99(best) > p99(found) * WORTH_IT) throw new Error(nothingHelps(found, wish));
    found = best;
  }
  for (const count of COUNTS) {
    while (found.plant[count] > 1) {
      const smaller = tried({ ...found.plant, [count]: found.plant[count] - 1 }, wish);
      if (!does(smaller, wish)) break;
      found = smaller;
    }
  }
  return found;
}

/** Below that some part would have more to do than there is time, even if everything that can be shared is. */
export function leastByWork({ costs, load, coresOfDatabase }: Pick<Wish, 'costs' | 'load' | 'coresOfDatabase'>): Plant {
  const cores = (cost: LinearCost, together: number): number =>
    ((cost.eachUs + cost.onceUs / together) * load.eventsPerSecond) / 1_000_000;
  const atLeastOne = (count: number): number => Math.max(1, Math.ceil(count));
  const ofDatabases = cores(costs.insert, MOST_EVENTS_AN_INSERT) + cores(costs.write, MOST_EVENTS_A_FOLD);
  return {
    apis: atLeastOne(cores(costs.request, load.burst)),
    workers: atLeastOne(cores(costs.fold, MOST_EVENTS_A_FOLD)),
    databases: atLeastOne(ofDatabases / coresOfDatabase),
    coresOfDatabase,
  };
}

function tried(plant: Plant, { costs, load, bursts }: Wish): FoundPlant {
  return { plant, simulated: simulate(plant, { costs, load, bursts, seed: SEED }) };
}

function does({ simulated }: FoundPlant, { appliedMs }: Wish): boolean {
  return simulated.isSteady && simulated.appliedMs.p99 < appliedMs;
}

function nothingHelps({ plant, simulated }: FoundPlant, { load, appliedMs }: Wish): string {
  const reached = `${String(load.eventsPerSecond)} events/s are applied within ${simulated.appliedMs.p99.toFixed(1)} ms`;
  return `${reached} (p99) by ${JSON.stringify(plant)}, and more of any part does not help: ${String(appliedMs)} ms is not to be had`;
}

function p99({ simulated }: FoundPlant): number {
  return simulated.appliedMs.p99;
}

/** By one, and by some more where there are many. */
function grown(count: number): number {
  return count + Math.ceil(count / 20);
}
