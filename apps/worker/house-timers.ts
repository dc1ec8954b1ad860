import { sweepContainments } from '../../libs/ledger/containment/sweep-containments.js';
import { lapseClearances } from '../../libs/ledger/clearances/lapse-clearances.js';
import { foldShard } from '../../libs/ledger/fold/fold-shard.js';
import { recheckLimits } from '../../libs/ledger/limits/recheck-limits.js';
import { raiseNotices } from '../../libs/ledger/notices/raise-notices.js';
import { House } from '../house/open-house.js';
import { Timers } from './timers.js';

/** Late by so much, a notice is still in time: the nearest lead time is two hours. */
const NOTICES_EVERY_MS = 30_000;
/** How often it is looked whether a revision of a limit has come into force. */
const RECHECK_EVERY_MS = 5000;
/** How often pending events and containments are looked for that no wake-up told of. */
const SWEEP_EVERY_MS = 5000;

/** A lapse only tells what the times have said already. */
const LAPSE_EVERY_MS = 5000;

/**
 * Every timer of the house. To add one: its name in `TIMER_NAMES` (libs/ledger/ports/job-queue.ts) and a row here. The
 * worker repeats it through the carrier, and by itself while the carrier is away; nothing else has to be told of it.
 */
export function houseTimers(house: House): Timers {
  const { book } = house;
  return {
    'sweep-intake': {
      everyMs: SWEEP_EVERY_MS,
      run: async (stopped) => {
        for (const shard of await book.store.shardsDue()) {
          if (stopped()) return;
          await foldShard(book, shard);
        }
      },
    },
    'recheck-limits': {
      everyMs: RECHECK_EVERY_MS,
      run: (stopped) => recheckLimits(book, stopped),
    },
    'sweep-containments': {
      everyMs: SWEEP_EVERY_MS,
      run: (stopped) => sweepContainments(house, stopped),
    },
    'lapse-clearances': {
      everyMs: LAPSE_EVERY_MS,
      run: (stopped) => lapseClearances(book, book.clock.now(), stopped),
    },
    'raise-notices': {
      everyMs: NOTICES_EVERY_MS,
      run: (stopped) => raiseNotices({ ...book, reads: house.reads, notices: house.notices }, stopped),
    },
  };
}
