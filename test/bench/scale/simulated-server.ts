import { SimulatedTime } from './simulated-time.js';

interface Waiting {
  readonly us: number;
  readonly done: () => void;
}

/** Something with one core or several that does what it is asked for in order, as many at a time as it has cores. */
export class SimulatedServer {
  #busy = 0;
  #workedUs = 0;
  #longest = 0;
  #queue: Waiting[] = [];
  #head = 0;

  constructor(
    private readonly time: SimulatedTime,
    private readonly cores: number,
  ) {}

  /** Asks for so much time of one core. */
  serve(us: number, done: () => void): void {
    if (this.#busy < this.cores) {
      this.#begin({ us, done });
      return;
    }
    this.#queue.push({ us, done });
    this.#longest = Math.max(this.#longest, this.#queue.length - this.#head);
  }

  /** Most that waited at once, those left out that were being done. */
  get longestQueue(): number {
    return this.#longest;
  }

  /** Of the time of all cores: how much was worked until now. */
  get utilisation(): number {
    return this.#workedUs / (this.cores * this.time.now);
  }

  #begin({ us, done }: Waiting): void {
    this.#busy += 1;
    this.time.after(us, () => {
      this.#busy -= 1;
      this.#workedUs += us;
      const next = this.#queue[this.#head];
      if (next !== undefined) {
        this.#head += 1;
        // What was taken is let go of now and then, since taking it from the front each time would move all others.
        if (this.#head * 2 > this.#queue.length) {
          this.#queue = this.#queue.slice(this.#head);
          this.#head = 0;
        }
        this.#begin(next);
      }
      done();
    });
  }
}
