import { forEachTimer, JobHandlers, TimerName, TIMER_NAMES } from '../../libs/ledger/ports/job-queue.js';
import { Log } from '../../libs/ledger/ports/log.js';
import { Timers } from './timers.js';

/** So many repetitions missed, the carrier is taken to be away. */
const MISSED = 2;

/** Is told of what became of the runs of timers. */
export interface TimerNotes {
  done(timer: TimerName): void;
  failed(timer: TimerName): void;
}

/**
 * Runs timers when the carrier says so, and without being told while nothing comes through the carrier: facts are judged,
 * clearances lapse and warnings are given though the carrier is away.
 */
export class TimerWatch {
  readonly #timers: Timers;
  readonly #nowMs: () => number;
  readonly #log: Log;
  readonly #notes: TimerNotes | undefined;
  readonly #ranAtMs: Record<TimerName, number>;
  /** Runs of our own that have not ended. */
  readonly #own = new Map<TimerName, Promise<void>>();
  #stopped = false;

  /** @param nowMs a clock that only goes forward, ms */
  constructor(timers: Timers, nowMs: () => number, log: Log, notes?: TimerNotes) {
    this.#timers = timers;
    this.#nowMs = nowMs;
    this.#log = log;
    this.#notes = notes;
    this.#ranAtMs = forEachTimer(() => nowMs());
  }

  /** What the carrier's jobs of these names do. */
  handlers(): Pick<JobHandlers, TimerName> {
    return forEachTimer((name) => async (_payload: unknown, { signal }: { readonly signal: AbortSignal }) => {
      this.#ranAtMs[name] = this.#nowMs();
      await this.#run(name, () => signal.aborted);
    });
  }

  /** Starts every timer that has not run for so long that the carrier must be away. Returns at once. */
  look(): void {
    for (const name of TIMER_NAMES) {
      const { everyMs } = this.#timers[name];
      if (this.#own.has(name) || this.#nowMs() - this.#ranAtMs[name] < MISSED * everyMs) continue;
      this.#own.set(name, this.#runAlone(name));
    }
  }

  /** Resolves when no run of its own is at work. */
  async idle(): Promise<void> {
    while (this.#own.size > 0) await Promise.all(this.#own.values());
  }

  /** Ends its own runs. */
  async stop(): Promise<void> {
    this.#stopped = true;
    await this.idle();
  }

  async #run(name: TimerName, stopped: () => boolean): Promise<void> {
    try {
      await this.#timers[name].run(stopped);
    } catch (error) {
      this.#notes?.failed(name);
      throw error;
    }
    // What was cut short has not done its work.
    if (!stopped()) this.#notes?.done(name);
  }

  async #runAlone(name: TimerName): Promise<void> {
    this.#ranAtMs[name] = this.#nowMs() - (MISSED - 1) * this.#timers[name].everyMs;
    try {
      await this.#run(name, () => this.#stopped);
    } catch (error) {
      this.#log.warn(`timer '${name}' failed`, { error: String(error) });
    } finally {
      this.#own.delete(name);
    }
  }
}
