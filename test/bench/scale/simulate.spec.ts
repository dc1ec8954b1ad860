import { leastByWork, leastPlant } from './least-plant.js';
import { costUs, FALLBACK_COSTS } from './measured-costs.js';
import { loadOfStations, Plant } from './plant.js';
import { Run, simulate, STAGES } from './simulate.js';

const costs = FALLBACK_COSTS;
const ONE: Plant = { apis: 1, workers: 1, databases: 1, coresOfDatabase: 1 };
const run = (eventsPerSecond: number, burst: number, bursts = 4_000): Run => ({
  ...{ costs, bursts, seed: 3 },
  load: { eventsPerSecond, burst },
});

describe('a simulated plant', () => {
  it('with next to nothing to do takes as long as the work of each stage', () => {
    const { ackMs, appliedMs, isSteady } = simulate(ONE, run(0.01, 5));
    const ackUs = costUs(costs.request, 5) + costUs(costs.insert, 5);
    const appliedUs = ackUs + costUs(costs.wake, 5) + costUs(costs.fold, 5) + costUs(costs.write, 5);
    expect(ackMs.p50).toBeCloseTo(ackUs / 1_000, 6);
    expect(appliedMs.p50).toBeCloseTo(appliedUs / 1_000, 6);
    expect(appliedMs.p99).toBeCloseTo(appliedUs / 1_000, 6);
    expect(isSteady).toBe(true);
  });

  it('is as busy as the work that comes', () => {
    const { utilisation } = simulate(ONE, run(500, 100));
    expect(utilisation.api).toBeCloseTo((costUs(costs.request, 100) / 100) * 500e-6, 2);
    expect(STAGES.every((stage) => utilisation[stage] > 0 && utilisation[stage] < 1)).toBe(true);
  });

  it('falls behind where more comes than its worker can fold, and does not with three', () => {
    expect(simulate(ONE, run(6_000, 100)).isSteady).toBe(false);
    expect(simulate({ ...ONE, apis: 2, workers: 3, coresOfDatabase: 4 }, run(6_000, 100)).isSteady).toBe(true);
  });

  it('folds and inserts together what waits: by that it keeps up with more than single events would let it', () => {
    const cannotAlone = 1_000_000 / costUs(costs.write, 1);
    expect(simulate({ ...ONE, workers: 4 }, run(cannotAlone * 3, 1, 20_000)).isSteady).toBe(true);
  });

  it('is the same for the same seed', () => {
    expect(simulate(ONE, run(1_000, 10))).toEqual(simulate(ONE, run(1_000, 10)));
    expect(simulate(ONE, { ...run(1_000, 10), seed: 4 })).not.toEqual(simulate(ONE, run(1_000, 10)));
  });

  it('splits a burst that is larger than a fold, and has it applied with its last event', () => {
    const { appliedMs } = simulate(ONE, run(1, 1_200, 20));
    const folds = [500, 500, 200].map((events) => costUs(costs.fold, events) + costUs(costs.write, events));
    const before = costUs(costs.request, 1_200) + costUs(costs.insert, 1_200) + costUs(costs.wake, 1_200);
    expect(appliedMs.p50).toBeCloseTo(folds.reduce((sum, us) => sum + us, before) / 1_000, 6);
  });
});

describe('the least plant', () => {
  const wish = { costs, coresOfDatabase: 4, appliedMs: 2_000, bursts: 4_000 };

  it('is one of each for a hundred stations', () => {
    expect(leastPlant({ ...wish, load: loadOfStations(100) }).plant).toEqual({ ...ONE, coresOfDatabase: 4 });
  });

  it('does what is wished, has time for all the work, and with one less of any part does not', () => {
    const load = { eventsPerSecond: 20_000, burst: 100 };
    const { plant, simulated } = leastPlant({ ...wish, load });
    const floor = leastByWork({ costs, load, coresOfDatabase: 4 });
    expect(simulated.isSteady && simulated.appliedMs.p99 < 2_000).toBe(true);
    for (const part of ['apis', 'workers', 'databases'] as const) {
      expect(plant[part]).toBeGreaterThanOrEqual(floor[part]);
      if (plant[part] === 1) continue;
      const less = simulate({ ...plant, [part]: plant[part] - 1 }, { costs, load, bursts: wish.bursts, seed: 1 });
      expect(less.isSteady && less.appliedMs.p99 < 2_000).toBe(false);
    }
  });

  it('says so where nothing helps', () => {
    const load = { eventsPerSecond: 1, burst: 100 };
    expect(() => leastPlant({ ...wish, bursts: 20, load, appliedMs: 1 })).toThrow('1 ms is not to be had');
  });
});
