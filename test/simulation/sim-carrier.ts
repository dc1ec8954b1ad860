import {
  AddOptions,
  JobContext,
  JobHandlers,
  JobName,
  JobQueue,
  JobRequest,
} from '../../libs/ledger/ports/job-queue.js';
import { delayOf, SimProcess, SimWorld } from './sim-process.js';

interface Job {
  readonly name: JobName;
  readonly payload: JobRequest['payload'];
  readonly key: string | undefined;
  readonly attempt: number;
}

interface Taker {
  readonly process: SimProcess;
  readonly handlers: JobHandlers;
  readonly concurrency: number;
  running: number;
}

/** As `HOUSE_SETTINGS` of `libs/queue/carrier-settings.ts` has them. */
const ATTEMPTS = 5;
const BACKOFF_MS = 500;
/** A job whose worker died is found between these two, ms. */
const STALLED_MS = [10_000, 20_000] as const;

/**
 * A carrier that keeps less than the contract of `JobQueue` promises: by the weather it loses jobs, doubles them, brings them in
 * any order, is away and comes back with nothing. It merges by key, tries again and takes a dead worker's job back as the real
 * one does. A product that stands on the database alone must not mind.
 */
export class SimCarrier {
  readonly #world: SimWorld;
  readonly #ready: Job[] = [];
  /** Keys of jobs that wait, backing off included. */
  readonly #waiting = new Set<string>();
  /** Keys of jobs that run, with what is to be run once more after that. */
  readonly #running = new Map<string, Job | null>();
  readonly #takers: Taker[] = [];
  readonly #every = new Set<JobName>();
  #isAway = false;
  /** What began before the last outage is none of its jobs any more. */
  #outages = 0;

  constructor(world: SimWorld) {
    this.#world = world;
  }

  /** Forgets everything. */
  goAway(): void {
    this.#isAway = true;
    this.#outages += 1;
    this.#ready.length = 0;
    this.#waiting.clear();
    this.#running.clear();
  }

  comeBack(): void {
    this.#isAway = false;
  }

  /** Jobs that it has, running ones included; repetitions left out. */
  count(): number {
    return this.#ready.length + this.#waiting.size + this.#running.size;
  }

  /** The sending side as a process has it. */
  queueOf(process: SimProcess): JobQueue {
    const addMany = async (jobs: readonly JobRequest[]): Promise<void> => {
      await process.step('adds jobs');
      if (this.#isAway) throw new Error('the carrier is away');
      for (const job of jobs) this.#carry(job);
      // As `add` says: what is rejected may have been added all the same.
      if (this.#world.dice.chance(this.#world.weather.breaks)) throw new Error('the carrier did not answer');
    };
    return {
      addMany,
      add: (name, payload, options) => addMany([{ name, payload, ...(options && { options }) } as JobRequest]),
      every: async (name, payload, everyMs) => {
        await process.step('schedules');
        if (!this.#every.has(name)) this.#repeat({ name, payload } as JobRequest, everyMs);
        this.#every.add(name);
      },
      waiting: () => Promise.resolve(0),
      close: () => Promise.resolve(),
    };
  }

  /** Lets a worker take jobs until it dies. */
  join(process: SimProcess, handlers: JobHandlers, concurrency: number): void {
    const taker = { process, handlers, concurrency, running: 0 };
    this.#takers.push(taker);
    process.onKilled(() => this.#takers.splice(this.#takers.indexOf(taker), 1));
    this.#pump();
  }

  #repeat(job: JobRequest, everyMs: number): void {
    this.#world.time.after(everyMs, `carrier ${job.name}`, () => {
      if (!this.#isAway) this.#add({ ...job, key: job.name, attempt: 1 }, 0);
      this.#repeat(job, everyMs);
    });
  }

  #carry({ name, payload, options = {} }: JobRequest): void {
    const { dice, weather } = this.#world;
    const times = dice.chance(weather.lostJobs) ? 0 : dice.chance(weather.doubledJobs) ? 2 : 1;
    for (let time = 0; time < times; time += 1) {
      // The twin of a job is one that the carrier does not know for the same.
      const key = time === 0 ? keyOf(name, options) : undefined;
      this.#add({ name, payload, key, attempt: 1 }, (options.delayMs ?? 0) + delayOf(this.#world));
    }
  }

  #add(job: Job, delayMs: number): void {
    const { key } = job;
    if (key !== undefined) {
      if (this.#waiting.has(key)) return;
      if (this.#running.has(key)) {
        this.#running.set(key, job);
        return;
      }
      this.#waiting.add(key);
    }
    const outages = this.#outages;
    this.#world.time.after(delayMs, 'carrier has a job', () => {
      if (outages !== this.#outages) return;
      this.#ready.push(job);
      this.#pump();
    });
  }

  #pump(): void {
    const { dice } = this.#world;
    for (;;) {
      const free = this.#takers.filter(({ running, concurrency }) => running < concurrency);
      if (free.length === 0 || this.#ready.length === 0) return;
      const [job] = this.#ready.splice(dice.below(this.#ready.length), 1);
      if (job !== undefined) this.#give(dice.one(free), job);
    }
  }

  #give(taker: Taker, job: Job): void {
    const { process, handlers } = taker;
    const { key } = job;
    if (key !== undefined) {
      this.#waiting.delete(key);
      this.#running.set(key, null);
    }
    taker.running += 1;
    const outages = this.#outages;
    const whenKilled = process.onKilled(() => {
      const { time, dice } = this.#world;
      const [leastMs, mostMs] = STALLED_MS;
      time.after(leastMs + dice.below(mostMs - leastMs), 'carrier misses a worker', () => {
        if (outages === this.#outages) this.#end(job, 0);
      });
    });
    const ended = (retryMs: number | null): void => {
      whenKilled();
      taker.running -= 1;
      if (outages === this.#outages) this.#end(job, retryMs);
      this.#pump();
    };
    const run = async (): Promise<void> => {
      await process.step(`takes ${job.name}`);
      await handle(handlers, job);
      await process.step(`ends ${job.name}`);
    };
    run().then(
      () => {
        ended(null);
      },
      () => {
        ended(BACKOFF_MS * 2 ** (job.attempt - 1));
      },
    );
  }

  /** @param retryMs when it is to be run again; null where it went well */
  #end(job: Job, retryMs: number | null): void {
    const again = job.key === undefined ? null : (this.#running.get(job.key) ?? null);
    if (job.key !== undefined) this.#running.delete(job.key);
    if (retryMs !== null && job.attempt < ATTEMPTS) this.#add({ ...job, attempt: job.attempt + 1 }, retryMs);
    if (again !== null) this.#add(again, 0);
  }
}

function keyOf(name: JobName, { dedupeKey }: AddOptions): string | undefined {
  return dedupeKey === undefined ? undefined : `${name}/${dedupeKey}`;
}

const UNHURRIED = new AbortController().signal;

async function handle(handlers: JobHandlers, { name, payload, attempt }: Job): Promise<void> {
  const context: JobContext = { signal: UNHURRIED, attempt };
  const handler = handlers[name] as (payload: Job['payload'], context: JobContext) => Promise<void>;
  await handler(payload, context);
}
