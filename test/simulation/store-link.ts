import { SimWorld } from './sim-process.js';

/**
 * The store cannot be reached, or the connection broke: what was asked may have been done all the same. One for all: to make
 * an error takes longer than a step.
 */
const STORE_AWAY = new Error('the store is away');

/** What lies between the processes and the store. */
export class StoreLink {
  readonly #world: SimWorld;
  isAway = false;
  /** Goes up with every outage, which ends all connections. */
  #outages = 0;

  constructor(world: SimWorld) {
    this.#world = world;
  }

  goAway(): void {
    this.isAway = true;
    this.#outages += 1;
  }

  /** A connection, to be handed to `breaksNow`. */
  connect(): number {
    return this.#outages;
  }

  /** Whether a connection is gone, or goes at this moment. */
  breaksNow(connection: number): boolean {
    return this.isAway || connection !== this.#outages || this.#world.dice.chance(this.#world.weather.breaks);
  }

  away(): Error {
    return STORE_AWAY;
  }
}
