import { devicesNamed } from '../../domain/book/reach.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { BookTransaction } from '../ports/book-store.js';
import { BookDeps } from './book-deps.js';
import { foldPending } from './fold-pending.js';
import { leaveWaiting } from './leave-waiting.js';
import { tryAgain } from './try-again.js';

/** Events taken into one transaction, besides those of devices that they name. */
const MOST_EVENTS = 500;

/** What one transaction did. */
export interface FoldStep {
  /** Those of the shards asked for that it had; others were at work on the rest. */
  readonly own: readonly number[];
  /** Events taken from the inbox. */
  readonly claimed: number;
  /** Those of them that were folded; the others wait until somebody has told what they have claimed. */
  readonly folded: number;
  /** Whether there may be more that is due: it took as many as it may. */
  readonly full: boolean;
}

/**
 * Folds due events of these shards, as many as one transaction takes.
 * @param patient leaves out events that name a device of which others have something to tell
 * @returns `busy` where other workers have all of the shards.
 */
export async function foldShards(
  deps: BookDeps,
  shards: readonly number[],
  patient: boolean,
): Promise<FoldStep | 'busy'> {
  return tryAgain(async (whole) => {
    if (whole) return deps.store.exclusively((tx) => foldInside(deps, tx, shards, { whole, patient }));
    return deps.store.withShards(shards, (tx, own) => foldInside(deps, tx, own, { whole, patient }));
  });
}

async function foldInside(
  deps: BookDeps,
  tx: BookTransaction,
  own: readonly number[],
  { whole, patient }: { readonly whole: boolean; readonly patient: boolean },
): Promise<FoldStep> {
  const due = await tx.claim(own, MOST_EVENTS);
  if (due.length === 0) return { own, claimed: 0, folded: 0, full: false };
  // What was posted of a device together with its placement is told first, instead of coming late a moment after.
  const named = [...new Set(due.flatMap(({ event }) => devicesNamed(event).map(deviceKey)))];
  const [devices, version] = await Promise.all([tx.claimDevices(named), tx.setupVersion()]);
  // Where another transaction tells it just now, this one would make it come late: a story told anew, alone with the book.
  const unclaimed = patient && !whole ? await tx.unclaimedDevices(named) : [];
  const pending = leaveWaiting([...due, ...devices], unclaimed);
  if (pending.length > 0) {
    await deps.setup.reach(version);
    await foldPending({ deps, tx, whole, rules: deps.setup.latest() }, pending);
  }
  const claimed = due.length + devices.length;
  return { own, claimed, folded: pending.length, full: due.length === MOST_EVENTS };
}
