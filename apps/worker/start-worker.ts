import { ArchiveMaker } from '../../libs/evidence/archive/archive-maker.js';
import { runContainment } from '../../libs/ledger/containment/run-containment.js';
import { FoldDesk } from '../../libs/ledger/fold/fold-desk.js';
import { JobHandlers, JobWorker, TIMER_NAMES } from '../../libs/ledger/ports/job-queue.js';
import { House } from '../house/open-house.js';
import { archiveDeps } from './house-archives.js';
import { houseTimers } from './house-timers.js';
import { TimerWatch } from './timer-watch.js';
import { traceFold } from './trace-folds.js';
import { WorkerFigures } from './worker-figures.js';

/** Jobs at once: the wake-ups of all shards, so that those that wait are folded together, and some others beside them. */
const CONCURRENCY = 20;
/** How often it is looked whether timers still come through the carrier. */
const LOOK_EVERY_MS = 1000;

/** Starts taking jobs: folds pending events into the book and runs the timers, until it is closed. */
export async function startWorker(house: House): Promise<JobWorker> {
  const { book, carrier, tracer, figures } = house;
  const own = new WorkerFigures(figures.registry, () => performance.now());
  figures.add(own);
  const desk = new FoldDesk(book, {
    watch: {
      requests: tracer !== undefined,
      folded: (round) => {
        own.countFold(round);
        if (tracer !== undefined) traceFold(tracer, round);
      },
      failed: () => {
        own.countFailure();
      },
    },
  });
  const archives = new ArchiveMaker(archiveDeps(house));
  const timers = houseTimers(house, archives, desk);
  const watch = new TimerWatch(timers, () => performance.now(), book.log, own);
  const handlers: JobHandlers = {
    ...watch.handlers(),
    'fold-shard': ({ shard, traceparent }, { signal }) => desk.fold(shard, signal, traceparent),
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
