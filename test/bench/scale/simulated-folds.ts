import { Costs, costUs } from './measured-costs.js';
import { FOLDS_AT_ONCE, MOST_EVENTS_A_FOLD } from './plant.js';
import { Burst } from './simulated-inbox.js';
import { SimulatedServer } from './simulated-server.js';

/** The pending events of one shard of one database. */
interface Shard {
  readonly database: SimulatedServer;
  readonly pending: { readonly burst: Burst; left: number }[];
  /** A wake-up of it waits, or a worker has it. */
  taken: boolean;
}

interface Worker {
  readonly server: SimulatedServer;
  free: number;
}

/** Workers that take shards as they are woken, and fold each until nothing of it is pending. */
export class SimulatedFolds {
  readonly #shards: readonly Shard[];
  readonly #workers: readonly Worker[];
  readonly #woken: Shard[] = [];

  /** @param databases one for each shard */
  constructor(
    databases: readonly SimulatedServer[],
    workers: readonly SimulatedServer[],
    private readonly costs: Costs,
    private readonly applied: (burst: Burst) => void,
  ) {
    this.#shards = databases.map((database) => ({ database, pending: [], taken: false }));
    this.#workers = workers.map((server) => ({ server, free: FOLDS_AT_ONCE }));
  }

  /** Has been stored: a fold that is due or under way finds it. */
  store(burst: Burst): void {
    this.#shards[burst.shard]?.pending.push({ burst, left: burst.events });
  }

  wake(number: number): void {
    const shard = this.#shards[number];
    if (shard === undefined || shard.taken || shard.pending.length === 0) return;
    shard.taken = true;
    this.#woken.push(shard);
    this.#giveOut();
  }

  #giveOut(): void {
    while (this.#woken.length > 0) {
      // The one with the most to spare, as it would be the first to ask.
      const worker = this.#workers.reduce((best, one) => (one.free > best.free ? one : best));
      if (worker.free === 0) return;
      const shard = this.#woken.shift();
      if (shard === undefined) return;
      worker.free -= 1;
      this.#fold(shard, worker);
    }
  }

  #fold(shard: Shard, worker: Worker): void {
    let events = 0;
    const whole: Burst[] = [];
    let first = shard.pending[0];
    while (first !== undefined && events < MOST_EVENTS_A_FOLD) {
      const part = Math.min(first.left, MOST_EVENTS_A_FOLD - events);
      events += part;
      first.left -= part;
      if (first.left > 0) break;
      whole.push(first.burst);
      shard.pending.shift();
      first = shard.pending[0];
    }
    worker.server.serve(costUs(this.costs.fold, events), () => {
      shard.database.serve(costUs(this.costs.write, events), () => {
        for (const burst of whole) this.applied(burst);
        if (shard.pending.length > 0) {
          this.#fold(shard, worker);
          return;
        }
        shard.taken = false;
        worker.free += 1;
        this.#giveOut();
      });
    });
  }
}
