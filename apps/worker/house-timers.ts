import { ArchiveMaker } from '../../libs/evidence/archive/archive-maker.js';
import { sweepArchives } from '../../libs/ledger/archives/sweep-archives.js';
import { sweepContainments } from '../../libs/ledger/containment/sweep-containments.js';
import { lapseClearances } from '../../libs/ledger/clearances/lapse-clearances.js';
import { FoldDesk } from '../../libs/ledger/fold/fold-desk.js';
import { sweepIntake } from '../../libs/ledger/fold/sweep-intake.js';
import { recheckLimits } from '../../libs/ledger/limits/recheck-limits.js';
import { checkLogWhenDue } from '../../libs/ledger/log/check-log.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { takeCensus } from '../../libs/ledger/log/take-census.js';
import { raiseNotices } from '../../libs/ledger/notices/raise-notices.js';
import { House } from '../house/open-house.js';
import { Timers } from './timers.js';

/** Late by so much, a notice is still in time: the nearest lead time is two hours. */
const NOTICES_EVERY_MS = 30_000;
/** How often it is looked whether a revision of a limit has come into force. */
const RECHECK_EVERY_MS = 5000;
/** How often pending events are looked for that no wake-up told of: after a worker was killed, stations wait for it. */
const SWEEP_INTAKE_EVERY_MS = 2000;
/** The same of containments and archives. */
const SWEEP_EVERY_MS = 5000;

/** How old an entry gets before its checkpoint, where nobody waits for it. */
const SEQUENCE_EVERY_MS = 2000;
/** How often it is looked whether a day has ended, or the log is to be checked again. */
const CENSUS_EVERY_MS = 60_000;

/** How long notes of changes are kept for those who lost their connection, and how often older ones are removed. */
const KEEP_CHANGES_MS = 60 * 60_000;
const FORGET_EVERY_MS = 60_000;

/** A lapse only tells what the times have said already. */
const LAPSE_EVERY_MS = 5000;

/**
 * Every timer of the house. To add one: its name in `TIMER_NAMES` (libs/ledger/ports/job-queue.ts) and a row here. The
 * worker repeats it through the carrier, and by itself while the carrier is away; nothing else has to be told of it.
 */
export function houseTimers(house: House, archives: ArchiveMaker, desk: FoldDesk): Timers {
  const { book } = house;
  return {
    'sweep-intake': {
      everyMs: SWEEP_INTAKE_EVERY_MS,
      run: (stopped) => sweepIntake(book.store, desk, stopped),
    },
    'recheck-limits': {
      everyMs: RECHECK_EVERY_MS,
      run: (stopped) => recheckLimits(book, stopped),
    },
    'sweep-containments': {
      everyMs: SWEEP_EVERY_MS,
      run: (stopped) => sweepContainments(house, stopped),
    },
    'sweep-archives': {
      everyMs: SWEEP_EVERY_MS,
      run: async (stopped) => {
        await sweepArchives({ archives: house.archives, clock: book.clock }, stopped);
        if (!stopped()) await archives.work();
      },
    },
    'lapse-clearances': {
      everyMs: LAPSE_EVERY_MS,
      run: (stopped) => lapseClearances(book, book.clock.now(), stopped),
    },
    'raise-notices': {
      everyMs: NOTICES_EVERY_MS,
      run: (stopped) => raiseNotices({ ...book, reads: house.reads, notices: house.notices }, stopped),
    },
    'sequence-log': {
      everyMs: SEQUENCE_EVERY_MS,
      run: (stopped) => sequenceLog(house.logDeps, stopped),
    },
    'forget-changes': {
      everyMs: FORGET_EVERY_MS,
      run: () => house.changes.forget(new Date(Date.parse(book.clock.now()) - KEEP_CHANGES_MS).toISOString()),
    },
    'take-census': {
      everyMs: CENSUS_EVERY_MS,
      run: (stopped) => takeCensus(house.logDeps, stopped),
    },
    'check-log': {
      everyMs: CENSUS_EVERY_MS,
      run: (stopped) => checkLogWhenDue(house.logDeps, stopped),
    },
  };
}
