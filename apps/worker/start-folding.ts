import { setTimeout as delay } from 'node:timers/promises';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { foldShard } from '../../libs/ledger/fold/fold-shard.js';
import { JobHandlers, JobWorker } from '../../libs/ledger/ports/job-queue.js';
import { JobCarrier } from '../../libs/queue/open-job-carrier.js';

/** Shards folded at once: each takes a database connection while it works. */
const CONCURRENCY = 4;
/** How often pending events are looked for that no wake-up told of. */
const SWEEP_EVERY_MS = 5000;
/** So long without one, the carrier is taken to be away. */
const SWEEP_MISSED_MS = 2 * SWEEP_EVERY_MS;
/** A busy shard is looked at again this often, until its worker must have seen what the wake-up told of. */
const BUSY_LOOKS = 40;
const BUSY_PAUSE_MS = 25;

/** Starts taking wake-ups: folds pending events into the book until it is closed. */
export async function startFolding(deps: BookDeps, carrier: JobCarrier): Promise<JobWorker> {
  let sweptAt = performance.now();
  const sweep = async (stopped: () => boolean): Promise<void> => {
    sweptAt = performance.now();
    for (const shard of await deps.store.shardsDue()) {
      if (stopped()) return;
      await foldShard(deps, shard);
    }
  };
  const handlers: JobHandlers = {
    'fold-shard': async ({ shard }, { signal }) => {
      await foldWhenFree(deps, shard, signal);
    },
    'sweep-intake': async (_, { signal }) => {
      await sweep(() => signal.aborted);
    },
  };
  const worker = await carrier.startWorker(handlers, { concurrency: CONCURRENCY });
  await carrier.queue.every('sweep-intake', {}, SWEEP_EVERY_MS);
  const watch = watchSweeps(() => performance.now() - sweptAt, sweep, deps.log);
  return {
    ready: () => worker.ready(),
    close: async (timeoutMs) => {
      await watch.stop();
      return worker.close(timeoutMs);
    },
  };
}

/**
 * Sweeps without being told to while no sweep comes through the carrier, so that facts are judged and holds raised
 * though the carrier is away.
 */
function watchSweeps(
  sinceSweepMs: () => number,
  sweep: (stopped: () => boolean) => Promise<void>,
  log: BookDeps['log'],
): { stop(): Promise<void> } {
  let stopped = false;
  let sweeping = Promise.resolve();
  const timer = setInterval(() => {
    if (sinceSweepMs() < SWEEP_MISSED_MS) return;
    sweeping = sweep(() => stopped).catch((error: unknown) => {
      log.warn('a sweep failed', { error: String(error) });
    });
  }, SWEEP_EVERY_MS);
  return {
    stop: async () => {
      stopped = true;
      clearInterval(timer);
      await sweeping;
    },
  };
}

/**
 * Another worker may have looked for the last time just before the event came that this wake-up tells of, so a busy
 * shard is waited for. What is missed all the same is the sweeper's.
 */
async function foldWhenFree(deps: BookDeps, shard: number, signal: AbortSignal): Promise<void> {
  for (let look = 0; look < BUSY_LOOKS && !signal.aborted; look += 1) {
    if ((await foldShard(deps, shard, signal)) !== 'busy') return;
    await delay(BUSY_PAUSE_MS);
  }
}
