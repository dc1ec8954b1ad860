import { machineWaits, Waits } from '../ports/waits.js';
import { BookDeps } from './book-deps.js';
import { MOST_PAUSES, PAUSE_MS } from './fold-shard.js';
import { FoldStep, foldShards } from './fold-shards.js';

/**
 * Transactions at once: one is judged while the database works for the other. With four there was as much done, for some 7 %
 * more of the worker's processor time: more is alive for the collector of garbage to go through.
 */
const FOLDS = 2;
/** Shards in one transaction: half of the book's, so that two transactions have something to do. */
const SHARDS_TOGETHER = 8;
/**
 * Least time between two beginnings. The first after a pause goes at once; the wake-ups of one bundle come one by one, and
 * would else be folded by ones and twos. At 500 events a second a fold finds 24 with it, where 10 ms found 6, and an event takes
 * a quarter less of all processors.
 */
const REST_MS = 50;
/** A busy shard is looked at again this often, until its worker must have seen what the wake-up told of. */
const BUSY_LOOKS = 40;
const BUSY_PAUSE_MS = 25;

/** A fold that was committed. */
export interface FoldRound extends FoldStep {
  /** When it was begun, ms since 1970. */
  readonly sinceMs: number;
  /** Traceparents of what asked for it, as far as that is traced. */
  readonly wakeUps: readonly string[];
}

/** Is told of folds. None of it throws or waits. */
export interface FoldWatch {
  /** Whether it wants to know which requests brought what was folded. */
  readonly requests: boolean;
  folded(round: FoldRound): void;
  /** One transaction came to nothing; what it was to fold is tried again. */
  failed(error: unknown): void;
}

interface FoldDeskOptions {
  readonly waits?: Waits;
  readonly watch?: FoldWatch;
}

/** A shard that is to be folded, with all who wait for it. */
interface Visit {
  readonly shard: number;
  readonly waiters: Waiter[];
  /** Looks at which another worker had the shard. */
  looks: number;
  /** Folds in a row that left events for others to tell first. */
  pauses: number;
  /**
   * The next fold is of this one alone: one of several failed with it, and it is to hold up no other; or it has more than a fold
   * takes, and the more events of a unit are folded at once, the seldomer is its state written.
   */
  alone: boolean;
}

interface Waiter {
  readonly signal: AbortSignal | undefined;
  readonly done: () => void;
  readonly failed: (error: unknown) => void;
  readonly wakeUp: string | undefined;
}

/**
 * Folds the shards that are asked for, all that wait together in one transaction: a transaction costs as much as some ten
 * events. A shard that was asked for while nothing is at work is folded at once; under load they gather while others are
 * folded, and each has its turn before any has a second.
 */
export class FoldDesk {
  readonly #deps: BookDeps;
  readonly #waits: Waits;
  readonly #watch: FoldWatch | undefined;
  /** By shard, those whose turn is next first. */
  readonly #waiting = new Map<number, Visit>();
  #folds = 0;
  #begunMs = -Infinity;
  #resting = false;

  constructor(deps: BookDeps, { waits = machineWaits, watch }: FoldDeskOptions = {}) {
    this.#deps = deps;
    this.#waits = waits;
    this.#watch = watch;
  }

  /**
   * Resolves once all has been folded that was due in a shard when this was called, or `signal` has said stop, or another
   * worker had the shard for so long that it must have seen it.
   * @param wakeUp W3C traceparent of what asks for it, where that is traced
   */
  fold(shard: number, signal?: AbortSignal, wakeUp?: string): Promise<void> {
    return new Promise((done, failed) => {
      this.#enter({ shard, waiters: [{ signal, done, failed, wakeUp }], looks: 0, pauses: 0, alone: false });
      this.#begin();
    });
  }

  #enter(visit: Visit): void {
    const there = this.#waiting.get(visit.shard);
    if (there === undefined) this.#waiting.set(visit.shard, visit);
    else {
      there.waiters.push(...visit.waiters);
      // Asked for anew in the meantime: what was learnt of it counts all the same.
      there.alone ||= visit.alone;
      there.pauses = Math.max(there.pauses, visit.pauses);
    }
  }

  #begin(): void {
    const [next] = this.#waiting.values();
    if (next === undefined || this.#resting || this.#folds >= FOLDS) return;
    // Where there is more than a fold takes, nothing is gained by waiting for more.
    const restMs = next.alone ? 0 : this.#begunMs + REST_MS - this.#waits.nowMs();
    if (restMs > 0) this.#rest(restMs);
    else {
      const visits = this.#take();
      if (visits.length > 0) {
        this.#folds += 1;
        this.#begunMs = this.#waits.nowMs();
        void this.#work(visits);
      }
      this.#begin();
    }
  }

  #rest(ms: number): void {
    this.#resting = true;
    this.#waits.after(ms, () => {
      this.#resting = false;
      this.#begin();
    });
  }

  /** The shards of the next transaction, as far as somebody still waits for them. */
  #take(): Visit[] {
    const taken: Visit[] = [];
    for (const visit of this.#waiting.values()) {
      if (visit.alone && taken.length > 0) break;
      this.#waiting.delete(visit.shard);
      if (visit.waiters.every(({ signal }) => signal?.aborted === true)) end(visit);
      else taken.push(visit);
      if (visit.alone || taken.length === SHARDS_TOGETHER) break;
    }
    return taken;
  }

  async #work(visits: readonly Visit[]): Promise<void> {
    try {
      await this.#fold(visits);
    } catch (error) {
      this.#watch?.failed(error);
      for (const visit of visits) {
        if (visits.length === 1) for (const { failed } of visit.waiters) failed(error);
        else this.#enter({ ...visit, alone: true });
      }
    }
    this.#folds -= 1;
    this.#begin();
  }

  async #fold(visits: readonly Visit[]): Promise<void> {
    const patient = visits.every(({ pauses }) => pauses < MOST_PAUSES);
    const sinceMs = Date.now();
    const step = await foldShards(
      this.#deps,
      visits.map(({ shard }) => shard),
      { patient, requests: this.#watch?.requests === true },
    );
    if (step !== 'busy' && step.folded > 0) this.#watch?.folded({ ...step, sinceMs, wakeUps: wakeUpsOf(visits) });
    for (const visit of visits) {
      if (step === 'busy' || !step.own.includes(visit.shard)) this.#lookAgain(visit);
      else if (step.folded < step.claimed) this.#later({ ...visit, pauses: visit.pauses + 1 }, PAUSE_MS);
      else if (step.full) this.#enter({ ...visit, pauses: 0, alone: true });
      else end(visit);
    }
  }

  #lookAgain(visit: Visit): void {
    if (visit.looks < BUSY_LOOKS) this.#later({ ...visit, looks: visit.looks + 1 }, BUSY_PAUSE_MS);
    // What is missed all the same is the sweeper's.
    else end(visit);
  }

  #later(visit: Visit, afterMs: number): void {
    this.#waits.after(afterMs, () => {
      this.#enter(visit);
      this.#begin();
    });
  }
}

function wakeUpsOf(visits: readonly Visit[]): readonly string[] {
  return visits.flatMap(({ waiters }) => waiters.flatMap(({ wakeUp }) => wakeUp ?? []));
}

function end({ waiters }: Visit): void {
  for (const { done } of waiters) done();
}
