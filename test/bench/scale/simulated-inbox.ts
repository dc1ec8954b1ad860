import { Costs, costUs } from './measured-costs.js';
import { INSERTS_AT_ONCE, MOST_EVENTS_AN_INSERT } from './plant.js';
import { SimulatedServer } from './simulated-server.js';

/** Events that came together, in one request. */
export interface Burst {
  /** us */
  readonly came: number;
  readonly events: number;
  readonly shard: number;
}

/** What one api has for one database: requests that come while inserts are under way share the next one. */
export class SimulatedInbox {
  #inFlight = 0;
  #waiting: Burst[] = [];

  constructor(
    private readonly database: SimulatedServer,
    private readonly costs: Costs,
    private readonly stored: (bursts: readonly Burst[], events: number) => void,
  ) {}

  take(burst: Burst): void {
    this.#waiting.push(burst);
    this.#insert();
  }

  #insert(): void {
    if (this.#inFlight >= INSERTS_AT_ONCE || this.#waiting.length === 0) return;
    let events = 0;
    const fitting = this.#waiting.findIndex((burst) => (events += burst.events) > MOST_EVENTS_AN_INSERT);
    const taken = this.#waiting.splice(0, fitting < 0 ? this.#waiting.length : Math.max(1, fitting));
    const inserted = taken.reduce((sum, burst) => sum + burst.events, 0);
    this.#inFlight += 1;
    this.database.serve(costUs(this.costs.insert, inserted), () => {
      this.#inFlight -= 1;
      this.stored(taken, inserted);
      this.#insert();
    });
  }
}
