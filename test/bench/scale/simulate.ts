import { mulberry32 } from '../../support/mulberry32.js';
import { percentile } from '../load/percentile.js';
import { exponential } from './exponential.js';
import { Costs, costUs } from './measured-costs.js';
import { Load, Plant, SHARDS } from './plant.js';
import { SimulatedFolds } from './simulated-folds.js';
import { Burst, SimulatedInbox } from './simulated-inbox.js';
import { SimulatedServer } from './simulated-server.js';
import { SimulatedTime } from './simulated-time.js';

/** The parts that have something to do; of those that are several, all together. */
export const STAGES = ['api', 'worker', 'database', 'redis'] as const;
export type Stage = (typeof STAGES)[number];

export interface Simulated {
  /** Of the time of all cores, until the last event was applied. */
  readonly utilisation: Readonly<Record<Stage, number>>;
  /** Pieces of work that waited at one of them at once, at most. */
  readonly longestQueue: Readonly<Record<Stage, number>>;
  /** From a request until it is answered. */
  readonly ackMs: Quantiles;
  /** From a request until the last of its events is in the ledger. */
  readonly appliedMs: Quantiles;
  /** Whether what waits does not become more and more. */
  readonly isSteady: boolean;
}

export interface Quantiles {
  readonly p50: number;
  readonly p99: number;
}

export interface Run {
  readonly costs: Costs;
  readonly load: Load;
  readonly bursts: number;
  readonly seed: number;
}

/** Of the bursts: the first find nothing waiting anywhere, and so are not counted. */
const WARM_UP_SHARE = 0.1;
/** The last quarter may be so much slower than the second before it counts as falling behind. */
const STEADY_WITHIN = 1.5;

/**
 * Simulates a plant, from the costs that were measured. Bursts come by chance (Poisson), each for one shard by chance: an api
 * reads it, an insert stores it, which it may share with others (acknowledged); Redis passes a wake-up on; a worker folds
 * up to 500 events of the shard, Postgres writes them (applied), and so on while the shard has more.
 *
 * What is assumed: units spread perfectly over shards and servers; nothing costs more in a larger book or plant than where it
 * was measured, and cores do not disturb one another; no network and no waiting for a disk, so that the figures of a plant
 * with little to do are too good; each stage of a fold is one piece, first all of the worker's and then all of
 * Postgres's; no late events, no clearances, no reading. Where there are several databases, every api and worker serves all of
 * them, which the product does not do today: there each book has its own.
 */
export function simulate(plant: Plant, { costs, load, bursts, seed }: Run): Simulated {
  const random = mulberry32(seed);
  const time = new SimulatedTime();
  const servers = (count: number, cores = 1): SimulatedServer[] =>
    Array.from({ length: count }, () => new SimulatedServer(time, cores));
  const apis = servers(plant.apis);
  const workers = servers(plant.workers);
  const databases = servers(plant.databases, plant.coresOfDatabase);
  const redis = servers(plant.databases);
  const acked: number[] = [];
  const applied: number[] = [];
  const counted =
    (list: number[]) =>
    (burst: Burst): unknown =>
      list.push((time.now - burst.came) / 1_000);
  const shards = databases.flatMap((database) => Array.from({ length: SHARDS }, () => database));
  const folds = new SimulatedFolds(shards, workers, costs, counted(applied));
  const inboxes = apis.map(() =>
    databases.map((database, n) => {
      return new SimulatedInbox(database, costs, (stored, events) => {
        for (const burst of stored) {
          counted(acked)(burst);
          folds.store(burst);
        }
        redis[n]?.serve(costUs(costs.wake, events), () => {
          for (const { shard } of stored) folds.wake(shard);
        });
      });
    }),
  );
  const meanUs = (load.burst / load.eventsPerSecond) * 1_000_000;
  const arrive = (left: number): void => {
    const burst = { came: time.now, events: load.burst, shard: Math.floor(random() * shards.length) };
    const api = Math.floor(random() * apis.length);
    apis[api]?.serve(costUs(costs.request, load.burst), () => {
      inboxes[api]?.[Math.floor(burst.shard / SHARDS)]?.take(burst);
    });
    if (left === 1) return;
    time.after(exponential(random, meanUs), () => {
      arrive(left - 1);
    });
  };
  arrive(bursts);
  time.run();
  const parts: Record<Stage, readonly SimulatedServer[]> = { api: apis, worker: workers, database: databases, redis };
  const utilisation = eachStage((stage) => mean(parts[stage].map((server) => server.utilisation)));
  return {
    utilisation,
    longestQueue: eachStage((stage) => Math.max(...parts[stage].map((server) => server.longestQueue))),
    ackMs: quantiles(acked),
    appliedMs: quantiles(applied),
    isSteady: isSteady(applied),
  };
}

/**
 * By the times of bursts in the order in which they were applied. How busy a part is would not tell: where what waits is done
 * together, it can be busy all the time and yet keep up.
 */
function isSteady(applied: readonly number[]): boolean {
  const quarter = Math.floor(applied.length / 4);
  const [second, last] = [applied.slice(quarter, 2 * quarter), applied.slice(-quarter)];
  return percentile(last, 0.5) <= STEADY_WITHIN * percentile(second, 0.5);
}

function quantiles(all: readonly number[]): Quantiles {
  const values = all.slice(Math.floor(all.length * WARM_UP_SHARE));
  return { p50: percentile(values, 0.5), p99: percentile(values, 0.99) };
}

function eachStage(of: (stage: Stage) => number): Record<Stage, number> {
  return { api: of('api'), worker: of('worker'), database: of('database'), redis: of('redis') };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
