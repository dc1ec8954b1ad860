import { devicesNamed } from '../../domain/book/reach.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { BookTransaction, PendingEvent } from '../ports/book-store.js';
import { RequestRef } from '../requests/request-ref.js';
import { MOST_LINKS } from '../requests/traceparent.js';
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
  /** Of those that were folded, how many could not be applied, and how many failed and are tried again. */
  readonly parked: number;
  readonly postponed: number;
  /** Some of the requests that brought what was folded, where that was asked for. */
  readonly requests: readonly RequestRef[];
}

export interface FoldWish {
  /** Leaves out events that name a device of which others have something to tell. */
  readonly patient: boolean;
  /** Whether it is asked which requests brought the events: a question more to the database. */
  readonly requests?: boolean;
}

/**
 * Folds due events of these shards, as many as one transaction takes.
 * @returns `busy` where other workers have all of the shards.
 */
export async function foldShards(
  deps: BookDeps,
  shards: readonly number[],
  wish: FoldWish,
): Promise<FoldStep | 'busy'> {
  return tryAgain(async (whole) => {
    if (whole) return deps.store.exclusively((tx) => foldInside(deps, tx, shards, { whole, ...wish }));
    return deps.store.withShards(shards, (tx, own) => foldInside(deps, tx, own, { whole, ...wish }));
  });
}

async function foldInside(
  deps: BookDeps,
  tx: BookTransaction,
  own: readonly number[],
  { whole, patient, requests: asked = false }: FoldWish & { readonly whole: boolean },
): Promise<FoldStep> {
  const due = await tx.claim(own, MOST_EVENTS);
  if (due.length === 0) return { ...NOTHING, own };
  // What was posted of a device together with its placement is told first, instead of coming late a moment after.
  const named = [...new Set(due.flatMap(({ event }) => devicesNamed(event).map(deviceKey)))];
  const [devices, version, requests] = await Promise.all([
    tx.claimDevices(named),
    tx.setupVersion(),
    asked ? tx.requestsOf(numbersOf(due), MOST_LINKS) : [],
  ]);
  // Where another transaction tells it just now, this one would make it come late: a story told anew, alone with the book.
  const unclaimed = patient && !whole ? await tx.unclaimedDevices(named) : [];
  const pending = leaveWaiting([...due, ...devices], unclaimed);
  const claimed = due.length + devices.length;
  const step = { ...NOTHING, own, claimed, full: due.length === MOST_EVENTS };
  if (pending.length === 0) return step;
  await deps.setup.reach(version);
  const { parked, postponed } = await foldPending({ deps, tx, whole, rules: deps.setup.latest() }, pending);
  return { ...step, folded: pending.length, parked: parked.length, postponed: postponed.length, requests };
}

const NOTHING = { claimed: 0, folded: 0, full: false, parked: 0, postponed: 0, requests: [] };

function numbersOf(pending: readonly PendingEvent[]): readonly string[] {
  return pending.map(({ number }) => number);
}
