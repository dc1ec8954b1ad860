import { setTimeout as delay } from 'node:timers/promises';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { foldShard } from '../../libs/ledger/fold/fold-shard.js';
import { JobHandlers, JobWorker } from '../../libs/ledger/ports/job-queue.js';
import { JobCarrier } from '../../libs/queue/open-job-carrier.js';

/** Shards folded at once: each takes a database connection while it works. */
const CONCURRENCY = 4;
/** How often pending events are looked for that no wake-up told of. */
const SWEEP_EVERY_MS = 5000;
/** A busy shard is looked at again this often, until its worker must have seen what the wake-up told of. */
const BUSY_LOOKS = 40;
const BUSY_PAUSE_MS = 25;

/** Starts taking wake-ups: folds pending events into the book until it is closed. */
export async function startFolding(deps: BookDeps, carrier: JobCarrier): Promise<JobWorker> {
  const handlers: JobHandlers = {
    'fold-shard': async ({ shard }, { signal }) => {
      await foldWhenFree(deps, shard, signal);
    },
    'sweep-intake': async (_, { signal }) => {
      for (const shard of await deps.store.shardsDue()) {
        if (signal.aborted) return;
        await foldShard(deps, shard, signal);
      }
    },
  };
  const worker = await carrier.startWorker(handlers, { concurrency: CONCURRENCY });
  await carrier.queue.every('sweep-intake', {}, SWEEP_EVERY_MS);
  return worker;
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
