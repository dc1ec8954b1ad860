import { forEachTimer } from '../ledger/ports/job-queue.js';
import type { JobContext, JobHandlers, JobMap, JobName } from '../ledger/ports/job-queue.js';
import { type CarrierSettings, HOUSE_SETTINGS } from './carrier-settings.js';
import { type CarrierTarget, type JobCarrier, openJobCarrier } from './open-job-carrier.js';

/** A store for the contract suite, which can be taken away and brought back. */
export interface StoreUnderTest {
  /** A carrier target that nothing has used yet. */
  freshTarget(): CarrierTarget;
  /** Breaks every connection and refuses new ones. */
  goAway(): Promise<void>;
  comeBack(): Promise<void>;
  dispose(): Promise<void>;
}

/** The house settings with shorter waits; `attempts` and all rules as in production. */
export const QUICK_SETTINGS: CarrierSettings = {
  ...HOUSE_SETTINGS,
  attempts: 3,
  backoffMs: 50,
  lockMs: 1_000,
  stalledCheckMs: 500,
  retryFetchMs: 100,
};

/** One start of a handler. */
export interface Run {
  name: JobName;
  shard: number | undefined;
  context: JobContext;
  startedAtMs: number;
}

/** Handlers that note each run and then do what the test says, by default nothing. */
export class RunRecorder {
  readonly runs: Run[] = [];
  readonly #waiting: { satisfied: () => boolean; resolve: () => void }[] = [];

  constructor(private readonly act: (run: Run) => Promise<void> = () => Promise.resolve()) {}

  readonly handlers: JobHandlers = {
    'fold-shard': (payload, context) => this.#note('fold-shard', payload, context),
    'run-containment': (_payload, context) => this.#note('run-containment', undefined, context),
    'make-archive': (_payload, context) => this.#note('make-archive', undefined, context),
    ...forEachTimer((name) => (_payload: unknown, context: JobContext) => this.#note(name, undefined, context)),
  };

  /** Shards of the fold jobs so far, in order of start. */
  get shards(): number[] {
    return this.runs.flatMap(({ shard }) => (shard === undefined ? [] : [shard]));
  }

  /** Resolves once `satisfied` holds; looked at after each start and at once. The test's own timeout bounds it. */
  until(satisfied: () => boolean): Promise<void> {
    if (satisfied()) return Promise.resolve();
    return new Promise((resolve) => {
      this.#waiting.push({ satisfied, resolve });
    });
  }

  /** Resolves once a sweep has started: with one job at a time, all that was added before it has been taken. */
  untilSwept(): Promise<void> {
    return this.until(() => this.runs.some(({ name }) => name === 'sweep-intake'));
  }

  async #note(name: JobName, payload: JobMap['fold-shard'] | undefined, context: JobContext): Promise<void> {
    const run = { name, shard: payload?.shard, context, startedAtMs: performance.now() };
    this.runs.push(run);
    for (const waiter of this.#waiting) if (waiter.satisfied()) waiter.resolve();
    await this.act(run);
  }
}

/** Opens carriers and closes them all at the end of a test. */
export class CarrierBench {
  readonly #carriers: JobCarrier[] = [];
  readonly logged: string[] = [];

  async open(target: CarrierTarget): Promise<JobCarrier> {
    const log = ({ message }: { message: string }): void => {
      this.logged.push(message);
    };
    const carrier = await openJobCarrier(target, { log, settings: QUICK_SETTINGS });
    this.#carriers.push(carrier);
    return carrier;
  }

  async closeAll(): Promise<void> {
    await Promise.all(this.#carriers.splice(0).map((carrier) => carrier.close()));
  }
}

/** A promise to be opened from outside. */
export interface Gate {
  opened: Promise<void>;
  open(): void;
}

export function gate(): Gate {
  let open: () => void = () => undefined;
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { opened, open };
}

/** Tries again every 50 ms until `attempt` no longer rejects, for up to ten seconds. */
export async function eventually(attempt: () => Promise<void>): Promise<void> {
  const deadlineMs = performance.now() + 10_000;
  for (;;) {
    try {
      await attempt();
      return;
    } catch (error) {
      if (performance.now() > deadlineMs) throw error;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }
}
