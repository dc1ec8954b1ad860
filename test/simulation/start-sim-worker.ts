import { TimerWatch } from '../../apps/worker/timer-watch.js';
import { Timer, Timers } from '../../apps/worker/timers.js';
import { lapseClearances } from '../../libs/ledger/clearances/lapse-clearances.js';
import { FoldDesk } from '../../libs/ledger/fold/fold-desk.js';
import { sweepIntake } from '../../libs/ledger/fold/sweep-intake.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { forEachTimer, JobHandlers, TimerName } from '../../libs/ledger/ports/job-queue.js';
import { ProcessParts } from './process-parts.js';
import { SimProcess } from './sim-process.js';

/** Jobs at once, and how often timers run and are looked after, ms: as in `apps/worker`. */
const CONCURRENCY = 20;
const EVERY_MS = { 'sweep-intake': 2000, 'lapse-clearances': 5000, 'sequence-log': 2000 } as const;
const LOOK_EVERY_MS = 1000;

const IDLE: Timer = { everyMs: 1e9, run: () => Promise.resolve() };

/** One life of a worker process: wake-ups, and the timers that keep the book up. */
export function startSimWorker(house: ProcessParts, process: SimProcess): void {
  const deps = house.depsOf(process);
  const desk = new FoldDesk(deps, { waits: process.waits });
  const logDeps = house.logDepsOf(process);
  const timers: Timers = {
    ...forEachTimer(() => IDLE),
    'sweep-intake': {
      everyMs: EVERY_MS['sweep-intake'],
      run: (stopped) => (house.planted.isUnswept === true ? Promise.resolve() : sweepIntake(deps.store, desk, stopped)),
    },
    'lapse-clearances': {
      everyMs: EVERY_MS['lapse-clearances'],
      run: (stopped) => lapseClearances(deps, deps.clock.now(), stopped),
    },
    'sequence-log': { everyMs: EVERY_MS['sequence-log'], run: (stopped) => sequenceLog(logDeps, stopped) },
  };
  const watch = new TimerWatch(timers, () => process.waits.nowMs(), deps.log);
  const handlers: JobHandlers = {
    ...watch.handlers(),
    'fold-shard': ({ shard }, { signal }) => desk.fold(shard, signal),
    'run-containment': () => Promise.resolve(),
    'make-archive': () => Promise.resolve(),
  };
  house.carrier.join(process, handlers, CONCURRENCY);
  void schedule(house, process);
  const look = (): void => {
    watch.look();
    process.waits.after(LOOK_EVERY_MS, look);
  };
  process.waits.after(LOOK_EVERY_MS, look);
}

async function schedule(house: ProcessParts, process: SimProcess): Promise<void> {
  const queue = house.carrier.queueOf(process);
  for (const name of Object.keys(EVERY_MS) as (keyof typeof EVERY_MS & TimerName)[]) {
    await queue.every(name, {}, EVERY_MS[name]);
  }
}
