import { TraceHash } from './trace-hash.js';

interface Step {
  readonly dueMs: number;
  /** Of those that are due at one moment, the one that was asked for first goes first. */
  readonly number: number;
  readonly what: string;
  readonly run: () => void;
}

/**
 * Time that stands still while anything has still to run, and then goes on to the next step that somebody waits for. Whatever
 * happens in it happens in the order of its steps, so that the same steps make the same story.
 */
export class VirtualTime {
  readonly trace = new TraceHash();
  steps = 0;
  #asked = 0;
  /** A heap: each before the two at twice its place and one or two more. */
  readonly #heap: Step[] = [];

  /** @param ms since the epoch */
  constructor(public ms: number) {}

  /** Runs a step once so many milliseconds have passed. @param what tells it in the trace */
  after(ms: number, what: string, run: () => void): void {
    this.#push({ dueMs: this.ms + ms, number: (this.#asked += 1), what, run });
  }

  /** Goes on step by step. @returns whether it was `done` by then; else nothing is left to come until `untilMs` */
  async goOn(done: () => boolean, untilMs: number): Promise<boolean> {
    for (;;) {
      // Once everything that the last step set off waits for another one.
      await new Promise(setImmediate);
      if (done()) return true;
      const next = this.#heap[0];
      if (next === undefined || next.dueMs > untilMs) return false;
      this.#pop();
      this.ms = next.dueMs;
      this.steps += 1;
      this.trace.add(this.ms, next.what);
      next.run();
    }
  }

  #push(step: Step): void {
    const heap = this.#heap;
    let at = heap.length;
    while (at > 0) {
      const above = (at - 1) >> 1;
      const other = heap[above];
      if (other === undefined || isBefore(other, step)) break;
      heap[at] = other;
      at = above;
    }
    heap[at] = step;
  }

  #pop(): void {
    const heap = this.#heap;
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return;
    let at = 0;
    for (;;) {
      const [left, right] = [heap[2 * at + 1], heap[2 * at + 2]];
      const rightFirst = left !== undefined && right !== undefined && isBefore(right, left);
      const first = rightFirst ? right : left;
      if (first === undefined || isBefore(last, first)) break;
      heap[at] = first;
      at = rightFirst ? 2 * at + 2 : 2 * at + 1;
    }
    heap[at] = last;
  }
}

function isBefore(a: Step, b: Step): boolean {
  return a.dueMs < b.dueMs || (a.dueMs === b.dueMs && a.number < b.number);
}
