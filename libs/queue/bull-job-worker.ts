import { type IQueueBackend, type Job, UnrecoverableError, Worker } from 'bullmq';
import type { JobHandlers, JobMap, JobName, JobWorker } from '../ledger/ports/job-queue.js';
import { QUEUE_NAME } from './bull-job-queue.js';
import type { CarrierBackend, CarrierConnection } from './carrier-backend.js';
import type { LimitedLog } from './carrier-log.js';
import type { CarrierSettings } from './carrier-settings.js';
import { handleJob, isJobName } from './job-handlers.js';
import { type StalledWatch, watchStalledJobs } from './stalled-watch.js';
import { within } from './within.js';

const CONNECT_TIMEOUT_MS = 10_000;
/** After their signals are aborted, handlers get this long to end, so that their jobs go back at once. */
const ABORT_GRACE_MS = 250;
const CLOSE_TIMEOUT_MS = 1_000;

type Payload = JobMap[JobName];

/** The receiving side of the carrier, on BullMQ. */
export class BullJobWorker implements JobWorker {
  readonly #connection: CarrierConnection;
  readonly #worker: Worker<Payload, void, string, IQueueBackend>;
  #stalledWatch: StalledWatch | undefined;
  /** Settle, without fail, when their handlers do. */
  readonly #running = new Set<Promise<void>>();
  #closing: Promise<'drained' | 'timed-out'> | undefined;
  #leaving = false;

  constructor(
    backend: CarrierBackend,
    handlers: JobHandlers,
    concurrency: number,
    private readonly settings: CarrierSettings,
    private readonly log: LimitedLog,
  ) {
    this.#connection = backend.connectWorker();
    // BullMQ makes an abort signal only for a processor that declares three parameters.
    const process = (job: Job<Payload, void>, _token?: string, signal?: AbortSignal): Promise<void> => {
      const run = runJob(handlers, job, signal);
      const ended = run.then(
        () => undefined,
        () => undefined,
      );
      this.#running.add(ended);
      void ended.then(() => this.#running.delete(ended));
      return run;
    };
    this.#worker = new Worker<Payload, void, string, IQueueBackend>(
      QUEUE_NAME,
      process,
      {
        connection: {},
        autorun: false,
        concurrency,
        lockDuration: settings.lockMs,
        skipStalledCheck: true,
        stalledInterval: settings.stalledCheckMs,
        maxStalledCount: settings.maxStalledCount,
        runRetryDelay: settings.retryFetchMs,
        drainDelay: backend.idleLookSeconds,
      },
      this.#connection.factory,
    );
    this.#worker.on('error', (error) => {
      // A server that stops with us may end connections that we are just letting go of.
      if (!this.#leaving) log.report('job worker', error);
    });
    this.#worker.on('failed', (job, error) => {
      log.report(`job '${job?.name ?? 'unknown'}'`, error);
    });
    this.#worker.on('lockRenewalFailed', (jobIds) => {
      for (const jobId of jobIds) this.#worker.cancelJob(jobId, 'the job was given to another worker');
    });
  }

  /**
   * Begins to take jobs once connected.
   *
   * @throws when the carrier cannot be reached within ten seconds; the worker is then closed
   */
  async start(): Promise<void> {
    try {
      await within(this.#worker.waitUntilReady(), CONNECT_TIMEOUT_MS, 'connecting the job worker');
    } catch (error) {
      await this.#letGo();
      throw error;
    }
    const report = (error: unknown): void => {
      this.#report(error);
    };
    this.#stalledWatch = watchStalledJobs(this.#worker.getBackend(), this.settings.stalledCheckMs, report);
    void this.#worker.run().catch(report);
  }

  async ready(): Promise<void> {
    await this.#worker.waitUntilReady();
  }

  close(timeoutMs: number): Promise<'drained' | 'timed-out'> {
    this.#closing ??= this.#stop(timeoutMs);
    return this.#closing;
  }

  async #stop(timeoutMs: number): Promise<'drained' | 'timed-out'> {
    this.#stalledWatch?.stop();
    // Pausing waits for running jobs; BullMQ's own close does so too, but cannot be cut short once it has begun.
    const idle = this.#worker.pause();
    let outcome: 'drained' | 'timed-out' = 'drained';
    try {
      // Pausing waits for the carrier's answers too, and with the carrier away these never come: so the handlers get
      // the whole time, and what the carrier has to be told of them a short one.
      await within(this.#handlersEnd(), timeoutMs, 'draining the job worker');
      await within(idle, CLOSE_TIMEOUT_MS, 'telling the carrier of the last jobs');
    } catch (error) {
      outcome = 'timed-out';
      this.#report(error);
      this.#worker.cancelAllJobs('the worker is shutting down');
      await within(idle, ABORT_GRACE_MS, 'aborting jobs').catch(() => undefined);
    }
    await this.#letGo();
    return outcome;
  }

  async #handlersEnd(): Promise<void> {
    while (this.#running.size > 0) await Promise.all(this.#running);
  }

  async #letGo(): Promise<void> {
    this.#leaving = true;
    try {
      await within(this.#worker.close(true), CLOSE_TIMEOUT_MS, 'closing the job worker');
    } catch (error) {
      this.#report(error);
    }
    await this.#connection.release();
  }

  #report(error: unknown): void {
    this.log.report('job worker', error instanceof Error ? error : new Error(String(error)));
  }
}

async function runJob(handlers: JobHandlers, job: Job<Payload, void>, signal?: AbortSignal): Promise<void> {
  // Trying again cannot help: another version of the product has left the job here.
  if (!isJobName(job.name)) throw new UnrecoverableError(`no handler for job '${job.name}'`);
  await handleJob(handlers, job.name, job.data, {
    signal: signal ?? new AbortController().signal,
    attempt: job.attemptsStarted,
  });
}
