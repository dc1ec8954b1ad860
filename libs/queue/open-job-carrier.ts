import type { JobHandlers, JobQueue, JobWorker } from '../ledger/ports/job-queue.js';
import { BullJobQueue } from './bull-job-queue.js';
import { BullJobWorker } from './bull-job-worker.js';
import type { CarrierBackend } from './carrier-backend.js';
import { type CarrierLog, LimitedLog } from './carrier-log.js';
import { type CarrierSettings, HOUSE_SETTINGS } from './carrier-settings.js';
import { assertEveryJobHandled } from './job-handlers.js';
import { openPostgresBackend } from './postgres-backend.js';
import { openRedisBackend } from './redis-backend.js';

/** Where jobs travel: a Redis, or tables in a schema of their own beside the product's. */
export type CarrierTarget =
  { kind: 'redis'; url: string; prefix?: string } | { kind: 'postgres'; databaseUrl: string; schema?: string };

export interface CarrierOptions {
  /** Told of every trouble with connections and jobs, each kind at most once in ten seconds. */
  log: CarrierLog;
  settings?: Partial<CarrierSettings>;
}

export interface JobCarrier {
  queue: JobQueue;
  /**
   * Starts taking jobs, `concurrency` at once.
   *
   * @throws JobHandlersError when jobs and handlers do not match; any other error when the carrier is away
   */
  startWorker: (handlers: JobHandlers, options: { concurrency: number }) => Promise<JobWorker>;
  /** Closes the queue, and workers that were not closed before: these get five seconds. Never hangs. */
  close: () => Promise<void>;
}

const WORKER_CLOSE_TIMEOUT_MS = 5_000;

/**
 * Connects the process to the carrier of wake-ups.
 *
 * @throws when the carrier cannot be reached or is unfit (see RedisUnfitError): start-up should fail with that line
 */
export async function openJobCarrier(target: CarrierTarget, options: CarrierOptions): Promise<JobCarrier> {
  const settings = { ...HOUSE_SETTINGS, ...options.settings };
  const log = new LimitedLog(options.log);
  const backend = await openBackend(target, settings, log);
  const queue = new BullJobQueue(backend, settings, log);
  await queue.connect();
  const workers: JobWorker[] = [];
  return {
    queue,
    startWorker: async (handlers, { concurrency }) => {
      assertEveryJobHandled({ ...handlers });
      const worker = new BullJobWorker(backend, handlers, concurrency, settings, log);
      await worker.start();
      workers.push(worker);
      return worker;
    },
    close: async () => {
      await Promise.all(workers.map((worker) => worker.close(WORKER_CLOSE_TIMEOUT_MS)));
      await queue.close();
    },
  };
}

function openBackend(target: CarrierTarget, settings: CarrierSettings, log: LimitedLog): Promise<CarrierBackend> {
  switch (target.kind) {
    case 'redis':
      return openRedisBackend(target.url, target.prefix ?? 'heatbook', log);
    case 'postgres':
      return openPostgresBackend(target.databaseUrl, target.schema ?? 'heatbook_queue', settings);
  }
}
