import { devicesNamed } from '../../domain/book/reach.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { BookTransaction } from '../ports/book-store.js';
import { BookDeps } from './book-deps.js';
import { foldPending } from './fold-pending.js';
import { leaveWaiting } from './leave-waiting.js';
import { tryAgain } from './try-again.js';

/** Events taken into one transaction. */
const MOST_EVENTS = 500;
/** Pauses until others have told what they have claimed; after that many the events are folded, though something may come late. */
const MOST_PAUSES = 40;
const PAUSE_MS = 5;

/** What one transaction did with a shard. */
interface Step {
  readonly claimed: number;
  readonly folded: number;
}

/**
 * Folds the due events of a shard until none is left or `signal` says stop.
 * @returns how many events were taken from the inbox, or `busy` where another worker has the shard.
 */
export async function foldShard(deps: BookDeps, shard: number, signal?: AbortSignal): Promise<number | 'busy'> {
  let folded = 0;
  let pauses = 0;
  while (signal?.aborted !== true) {
    const step = await foldOnce(deps, shard, pauses < MOST_PAUSES);
    if (step === 'busy') return folded > 0 ? folded : 'busy';
    if (step.claimed === 0) break;
    folded += step.folded;
    if (step.folded > 0) pauses = 0;
    else {
      pauses += 1;
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
    }
  }
  return folded;
}

async function foldOnce(deps: BookDeps, shard: number, patient: boolean): Promise<Step | 'busy'> {
  return tryAgain(async (whole) => {
    const work = (tx: BookTransaction): Promise<Step> => foldInside(deps, tx, shard, { whole, patient });
    return whole ? deps.store.exclusively(work) : deps.store.withShard(shard, work);
  });
}

async function foldInside(
  deps: BookDeps,
  tx: BookTransaction,
  shard: number,
  { whole, patient }: { readonly whole: boolean; readonly patient: boolean },
): Promise<Step> {
  const own = await tx.claim(shard, MOST_EVENTS);
  if (own.length === 0) return { claimed: 0, folded: 0 };
  // What was posted of a device together with its placement is told first, instead of coming late a moment after.
  const named = [...new Set(own.flatMap(({ event }) => devicesNamed(event).map(deviceKey)))];
  const [devices, version] = await Promise.all([tx.claimDevices(named), tx.setupVersion()]);
  // Where another transaction tells it just now, this one would make it come late: a story told anew, alone with the book.
  const unclaimed = patient && !whole ? await tx.unclaimedDevices(named) : [];
  const pending = leaveWaiting([...own, ...devices], unclaimed);
  if (pending.length > 0) {
    await deps.setup.reach(version);
    await foldPending({ deps, tx, whole, rules: deps.setup.latest() }, pending);
  }
  return { claimed: own.length + devices.length, folded: pending.length };
}
