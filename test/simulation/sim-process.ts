import { Clock } from '../../libs/ledger/ports/clock.js';
import { Waits } from '../../libs/ledger/ports/waits.js';
import { Dice } from '../fuzz/dice.js';
import { VirtualTime } from './virtual-time.js';
import { Weather } from './weather.js';

/** What everything in a schedule shares. */
export interface SimWorld {
  readonly time: VirtualTime;
  readonly dice: Dice;
  /** As it is just now; calm once the clients are done. */
  weather: Weather;
}

/** One life of a process. When it is killed, what it waits for never comes, and everything that it held is gone. */
export class SimProcess {
  isUp = true;
  readonly clock: Clock;
  readonly waits: Waits;
  readonly #skewMs: number;
  readonly #mourners = new Set<() => void>();

  constructor(
    readonly name: string,
    readonly world: SimWorld,
  ) {
    const { time, dice, weather } = world;
    this.#skewMs = weather.skewMs === 0 ? 0 : dice.below(2 * weather.skewMs) - weather.skewMs;
    this.clock = { now: () => new Date(time.ms + this.#skewMs).toISOString() };
    this.waits = {
      nowMs: () => time.ms,
      after: (ms, then) => {
        this.#later(ms, 'waited', then);
      },
      afterTurn: (then) => {
        this.#later(0, 'turn', then);
      },
    };
  }

  /** Goes on once it is its turn. Between any two steps the process may be killed, and others have theirs. */
  step(what: string): Promise<void> {
    return new Promise((resolve) => {
      this.#later(delayOf(this.world), what, () => {
        if (this.world.dice.chance(this.world.weather.kills)) this.kill();
        else resolve();
      });
    });
  }

  kill(): void {
    if (!this.isUp) return;
    this.isUp = false;
    this.world.time.trace.add(this.world.time.ms, `${this.name} is killed`);
    for (const mourner of [...this.#mourners]) mourner();
    this.#mourners.clear();
  }

  /** Calls back when it is killed. @returns what to call where that is of no interest any more */
  onKilled(mourner: () => void): () => void {
    this.#mourners.add(mourner);
    return () => this.#mourners.delete(mourner);
  }

  #later(ms: number, what: string, then: () => void): void {
    this.world.time.after(ms, `${this.name} ${what}`, () => {
      if (this.isUp) then();
    });
  }
}

/** Waits for what never comes. */
export const NEVER = new Promise<never>(() => undefined);

/** How long something takes, ms. */
export function delayOf({ dice, weather }: SimWorld): number {
  if (dice.chance(weather.slow)) return dice.below(2000);
  return dice.chance(0.2) ? dice.below(40) : dice.below(4);
}
