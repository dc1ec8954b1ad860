import { type IQueueBackend, type JobsOptions, Queue } from 'bullmq';
import type { AddOptions, JobMap, JobName, JobQueue, JobRequest } from '../ledger/ports/job-queue.js';
import type { CarrierBackend } from './carrier-backend.js';
import type { LimitedLog } from './carrier-log.js';
import { type CarrierSettings, KEPT_COMPLETED, KEPT_FAILED } from './carrier-settings.js';
import { within } from './within.js';

/** All jobs share one queue, so that one worker's concurrency bounds them all. */
export const QUEUE_NAME = 'wake-ups';
/** Nobody reads BullMQ's event stream here; it cannot be switched off, only kept short. */
const EVENTS_KEPT = 100;
const CONNECT_TIMEOUT_MS = 10_000;
const CLOSE_TIMEOUT_MS = 1_000;

type Payload = JobMap[JobName];
type WakeUps = Queue<Payload, void, JobName, Payload, void, JobName, IQueueBackend>;

/** The sending side of the carrier, on BullMQ. */
export class BullJobQueue implements JobQueue {
  readonly #queue: WakeUps;
  readonly #schedules = new Map<JobName, () => Promise<void>>();
  #closing: Promise<void> | undefined;

  constructor(
    private readonly backend: CarrierBackend,
    private readonly settings: CarrierSettings,
    private readonly log: LimitedLog,
  ) {
    this.#queue = new Queue<Payload, void, JobName, Payload, void, JobName, IQueueBackend>(
      QUEUE_NAME,
      {
        connection: {},
        streams: { events: { maxLen: EVENTS_KEPT } },
        defaultJobOptions: {
          attempts: settings.attempts,
          backoff: { type: 'exponential', delay: settings.backoffMs },
          removeOnComplete: KEPT_COMPLETED,
          removeOnFail: KEPT_FAILED,
        },
      },
      backend.producer.factory,
    );
    this.#queue.on('error', (error) => {
      // As with the worker: what breaks while we let go of it is no news.
      if (this.#closing === undefined) log.report('job queue', error);
    });
    backend.onReturn(() => {
      void this.#keepUpSchedules();
    });
  }

  /** Waits for the connection. @throws when there is none within ten seconds; the queue is then closed */
  async connect(): Promise<void> {
    try {
      await within(this.#queue.waitUntilReady(), CONNECT_TIMEOUT_MS, 'connecting the job queue');
    } catch (error) {
      await this.close();
      throw error;
    }
  }

  async add<N extends JobName>(name: N, payload: JobMap[N], options: AddOptions = {}): Promise<void> {
    await this.#within(this.#queue.add(name, payload, jobOptions(name, options)), `adding job '${name}'`);
  }

  async addMany(jobs: readonly JobRequest[]): Promise<void> {
    if (jobs.length === 0) return;
    const bulk = jobs.map(({ name, payload, options }) => ({
      name,
      data: payload,
      opts: jobOptions(name, options ?? {}),
    }));
    await this.#within(this.#queue.addBulk(bulk), `adding ${jobs.length} jobs`);
  }

  async every<N extends JobName>(name: N, payload: JobMap[N], everyMs: number): Promise<void> {
    const upsert = async (): Promise<void> => {
      const scheduled = this.#queue.upsertJobScheduler(name, { every: everyMs }, { name, data: payload });
      await this.#within(scheduled, `scheduling job '${name}'`);
    };
    this.#schedules.set(name, upsert);
    await upsert();
  }

  waiting(): Promise<number> {
    return within(this.#queue.getWaitingCount(), this.settings.addTimeoutMs, 'counting jobs');
  }

  async close(): Promise<void> {
    this.#closing ??= this.#release();
    await this.#closing;
  }

  async #release(): Promise<void> {
    try {
      await within(this.#queue.close(), CLOSE_TIMEOUT_MS, 'closing the job queue');
    } catch (error) {
      this.log.report('job queue', asError(error));
    }
    await this.backend.producer.release();
  }

  /** A store that was restarted may have come back without the schedules, and nothing would ever repeat again. */
  async #keepUpSchedules(): Promise<void> {
    for (const upsert of this.#schedules.values()) {
      try {
        await upsert();
      } catch (error) {
        this.log.report('job schedule', asError(error));
      }
    }
  }

  async #within(work: Promise<unknown>, what: string): Promise<void> {
    await within(work, this.settings.addTimeoutMs, what);
  }
}

function jobOptions(name: JobName, { dedupeKey, delayMs }: AddOptions): JobsOptions {
  return {
    ...(delayMs === undefined ? {} : { delay: delayMs }),
    ...(dedupeKey === undefined ? {} : { deduplication: { id: `${name}/${dedupeKey}`, keepLastIfActive: true } }),
  };
}

function asError(error: unknown): Error {
  return error instanceof Error ? error : new Error(String(error));
}
