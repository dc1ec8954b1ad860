import { setTimeout as delay } from 'node:timers/promises';
import { ArchiveMaker } from '../../libs/evidence/archive/archive-maker.js';
import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { runContainment } from '../../libs/ledger/containment/run-containment.js';
import { foldShard } from '../../libs/ledger/fold/fold-shard.js';
import { JobHandlers, JobWorker, TIMER_NAMES } from '../../libs/ledger/ports/job-queue.js';
import { House } from '../house/open-house.js';
import { archiveDeps } from './house-archives.js';
import { houseTimers } from './house-timers.js';
import { TimerWatch } from './timer-watch.js';

/** Shards folded at once: each takes a database connection while it works. */
const CONCURRENCY = 4;
/** How often it is looked whether timers still come through the carrier. */
const LOOK_EVERY_MS = 5000;
/** A busy shard is looked at again this often, until its worker must have seen what the wake-up told of. */
const BUSY_LOOKS = 40;
const BUSY_PAUSE_MS = 25;

/** Starts taking jobs: folds pending events into the book and runs the timers, until it is closed. */
export async function startWorker(house: House): Promise<JobWorker> {
  const { book, carrier } = house;
  const archives = new ArchiveMaker(archiveDeps(house));
  const timers = houseTimers(house, archives);
  const watch = new TimerWatch(timers, () => performance.now(), book.log);
  const handlers: JobHandlers = {
    ...watch.handlers(),
    'fold-shard': async ({ shard }, { signal }) => {
      await foldWhenFree(book, shard, signal);
    },
    'run-containment': async ({ containment }) => {
      await runContainment(house, containment);
    },
    'make-archive': async () => {
      await archives.work();
    },
  };
  const worker = await carrier.startWorker(handlers, { concurrency: CONCURRENCY });
  for (const name of TIMER_NAMES) await carrier.queue.every(name, {}, timers[name].everyMs);
  const looking = setInterval(() => {
    watch.look();
  }, LOOK_EVERY_MS);
  return {
    ready: () => worker.ready(),
    close: async (timeoutMs) => {
      clearInterval(looking);
      // It would go on for long; whoever comes next goes on where it was.
      await archives.stop();
      await watch.stop();
      return worker.close(timeoutMs);
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
