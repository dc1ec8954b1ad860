import { SimWorld } from './sim-process.js';

/** The store cannot be reached, or the connection broke: what was asked may have been done all the same. */
class StoreAway extends Error {
  override readonly name = 'StoreAway';
}

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
    return new StoreAway('the store is away');
  }
}
