interface Planned {
  readonly at: number;
  /** Of two at the same time the one that was planned first comes first. */
  readonly order: number;
  readonly act: () => void;
}

/** The time of a simulation: what is planned is done in the order of its time, and time leaps from one to the next. */
export class SimulatedTime {
  #now = 0;
  #order = 0;
  /** A binary heap, the earliest first. */
  readonly #planned: Planned[] = [];

  /** Since the beginning, us. */
  get now(): number {
    return this.#now;
  }

  /** @param delayUs from now, at least 0 */
  after(delayUs: number, act: () => void): void {
    if (!(delayUs >= 0)) throw new Error(`nothing can be planned ${String(delayUs)} us from now`);
    this.#order += 1;
    this.#rise({ at: this.#now + delayUs, order: this.#order, act });
  }

  /** Does what is planned, and what that plans, until nothing is left. */
  run(): void {
    for (let next = this.#take(); next !== undefined; next = this.#take()) {
      this.#now = next.at;
      next.act();
    }
  }

  #rise(planned: Planned): void {
    const heap = this.#planned;
    let place = heap.push(planned) - 1;
    while (place > 0) {
      const above = (place - 1) >> 1;
      const parent = heap[above];
      if (parent === undefined || !isBefore(planned, parent)) break;
      heap[place] = parent;
      place = above;
    }
    heap[place] = planned;
  }

  #take(): Planned | undefined {
    const heap = this.#planned;
    const [first] = heap;
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return first;
    let place = 0;
    for (;;) {
      const left = 2 * place + 1;
      const [one, other] = [heap[left], heap[left + 1]];
      if (one === undefined) break;
      const [child, below] = other !== undefined && isBefore(other, one) ? [left + 1, other] : [left, one];
      if (!isBefore(below, last)) break;
      heap[place] = below;
      place = child;
    }
    heap[place] = last;
    return first;
  }
}

function isBefore(a: Planned, b: Planned): boolean {
  return a.at < b.at || (a.at === b.at && a.order < b.order);
}
