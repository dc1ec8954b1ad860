import { compareOrder, EventOrder } from '../../domain/events/event-order.js';
import { Cause, causeKey, holdKey } from '../../domain/holds/cause.js';
import { HoldRecord, UNWORKED } from './hold-record.js';

/** Holds that the fold does not derive from facts it has applied, so that it does not take them back either. */
const NOT_OF_THE_FOLD = new Set(['by-hand', 'event-parked']);

export function isOfTheFold(hold: Pick<HoldRecord, 'reason'>): boolean {
  return !NOT_OF_THE_FOLD.has(hold.reason);
}

export interface Stamp {
  /** RFC 3339 UTC. */
  readonly now: string;
  newId(): string;
}

export interface HoldChanges {
  readonly raised: readonly HoldRecord[];
  readonly changed: readonly HoldRecord[];
  readonly withdrawn: readonly HoldRecord[];
}

/** Adds new causes: to the open hold of the same reason and subject, or by a new hold. */
export function addCauses(holds: readonly HoldRecord[], causes: readonly Cause[], stamp: Stamp): HoldChanges {
  const open = new Map(holds.filter(({ state }) => state === 'open').map((hold) => [holdKey(hold), hold]));
  const covered = new Set(holds.flatMap((hold) => hold.causes.map((event) => causeKey({ ...hold, event }))));
  const raised = new Set<string>();
  const changed = new Set<string>();
  for (const cause of causes) {
    if (covered.has(causeKey(cause))) continue;
    covered.add(causeKey(cause));
    const key = holdKey(cause);
    const known = open.get(key);
    if (known === undefined) {
      open.set(key, raise(cause, stamp));
      raised.add(key);
      continue;
    }
    const causes = sorted([...known.causes, cause.event]);
    // The newest cause that stands has the figures that hold now.
    const speaks = known.causeGone || causes.at(-1) === cause.event;
    const { evidence, remedy } = speaks ? cause : known;
    open.set(key, { ...known, causeGone: false, causes, evidence, remedy });
    if (!raised.has(key)) changed.add(key);
  }
  const pick = (keys: Set<string>): HoldRecord[] =>
    [...keys].flatMap((key) => {
      const hold = open.get(key);
      return hold === undefined ? [] : [hold];
    });
  return { raised: pick(raised), changed: pick(changed), withdrawn: [] };
}

/**
 * Brings the fold's holds in line with all causes that stand now. A hold that lost every cause is withdrawn, or, where
 * a person has worked on it, kept and marked. Where a person has struck the cause itself (`struck`), only a decision
 * keeps it: whoever decided is asked again.
 */
export function reconcileHolds(
  holds: readonly HoldRecord[],
  causes: readonly Cause[],
  stamp: Stamp,
  struck = false,
): HoldChanges {
  const standing = new Map(causes.map((cause) => [causeKey(cause), cause]));
  const changed = new Map<string, HoldRecord>();
  const withdrawn: HoldRecord[] = [];
  const kept: HoldRecord[] = [];
  for (const hold of holds) {
    if (!isOfTheFold(hold) || hold.state === 'withdrawn') continue;
    // What ended because there was no cause does not answer for one that comes up after all.
    if (hold.release?.withoutCause === true) continue;
    const remaining = hold.causes.filter((event) => standing.has(causeKey({ ...hold, event })));
    if (remaining.length > 0) {
      const now = remaining.flatMap((event) => standing.get(causeKey({ ...hold, event })) ?? []);
      const { evidence, remedy } = now.at(-1) ?? hold;
      const next = { ...hold, ...placeOf(now[0] ?? hold), causes: remaining, causeGone: false, evidence, remedy };
      if (JSON.stringify(next) !== JSON.stringify(hold)) changed.set(hold.id, next);
      kept.push(next);
    } else if (
      hold.state === 'open' &&
      (!hold.touched || (struck && !hold.causeGone && hold.dispositions.length === 0))
    ) {
      withdrawn.push({ ...hold, state: 'withdrawn' });
    } else {
      const next = { ...hold, causeGone: true };
      if (!hold.causeGone) changed.set(hold.id, next);
      kept.push(next);
    }
  }
  const added = addCauses(kept, causes, stamp);
  for (const hold of added.changed) changed.set(hold.id, hold);
  return { raised: added.raised, changed: [...changed.values()], withdrawn };
}

/** Where a hold came to light, and on whose account; of its first cause, whichever of them was the first to come. */
function placeOf({
  unit = null,
  customer = null,
  station = null,
  operator = null,
}: Pick<Cause, 'unit' | 'customer' | 'station' | 'operator'> | HoldRecord): Pick<
  HoldRecord,
  'unit' | 'customer' | 'station' | 'operator'
> {
  return { unit, customer, station, operator };
}

function raise(cause: Cause, stamp: Stamp): HoldRecord {
  const { reason, subject, evidence, remedy } = cause;
  return {
    id: stamp.newId(),
    state: 'open',
    reason,
    subject,
    ...placeOf(cause),
    raisedAt: stamp.now,
    raisedBy: null,
    causes: [cause.event],
    evidence,
    remedy,
    touched: false,
    causeGone: false,
    ...UNWORKED,
  };
}

function sorted(events: readonly EventOrder[]): EventOrder[] {
  return [...events].sort(compareOrder);
}
