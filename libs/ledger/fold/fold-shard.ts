import { devicesNamed } from '../../domain/book/reach.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { BookTransaction } from '../ports/book-store.js';
import { BookDeps } from './book-deps.js';
import { foldPending } from './fold-pending.js';
import { tryAgain } from './try-again.js';

/** Events taken into one transaction. */
const MOST_EVENTS = 500;

/**
 * Folds the due events of a shard until none is left or `signal` says stop.
 * @returns how many events were taken from the inbox, or `busy` where another worker has the shard.
 */
export async function foldShard(deps: BookDeps, shard: number, signal?: AbortSignal): Promise<number | 'busy'> {
  let folded = 0;
  while (signal?.aborted !== true) {
    const step = await foldOnce(deps, shard);
    if (step === 'busy') return folded > 0 ? folded : 'busy';
    if (step === 0) break;
    folded += step;
  }
  return folded;
}

async function foldOnce(deps: BookDeps, shard: number): Promise<number | 'busy'> {
  return tryAgain(async (whole) => {
    const work = (tx: BookTransaction): Promise<number> => foldInside(deps, tx, shard, whole);
    return whole ? deps.store.exclusively(work) : deps.store.withShard(shard, work);
  });
}

async function foldInside(deps: BookDeps, tx: BookTransaction, shard: number, whole: boolean): Promise<number> {
  const own = await tx.claim(shard, MOST_EVENTS);
  if (own.length === 0) return 0;
  // What was posted of a device together with its placement is told first, instead of coming late a moment after.
  const named = new Set(own.flatMap(({ event }) => devicesNamed(event).map(deviceKey)));
  const [devices, version] = await Promise.all([tx.claimDevices([...named]), tx.setupVersion()]);
  const pending = [...own, ...devices];
  await deps.setup.reach(version);
  await foldPending({ deps, tx, whole, rules: deps.setup.latest() }, pending);
  return pending.length;
}
