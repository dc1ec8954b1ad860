import { emptyWorld, World } from '../../domain/book/state.js';
import { orderTime } from '../../domain/events/event-order.js';
import { causeKey } from '../../domain/holds/cause.js';
import { isSubject } from '../../domain/holds/hold-subject.js';
import { HoldRecord } from '../holds/hold-record.js';
import { isOfTheFold } from '../holds/reconcile-holds.js';
import { SubjectRecord } from '../ports/book-store.js';

/** Holds that stand whatever the fold of the facts says: by hand, parked, about lateness, or kept by a person. */
function standsByItself(hold: HoldRecord): boolean {
  return !isOfTheFold(hold) || hold.reason === 'late-event' || hold.causeGone;
}

/** A world for judging events from the beginning: nothing is known but what people decided and what stands by itself. */
export function worldFromHolds(
  holds: readonly HoldRecord[],
  traces: World['traces'],
  clearances: World['clearances'],
): World {
  const world: World = { ...emptyWorld(), traces, clearances };
  for (const hold of holds) {
    const { subject } = hold;
    if (hold.state === 'withdrawn' || !isSubject(subject)) continue;
    const releasedAt = hold.release === null ? null : orderTime(hold.release.at);
    if (standsByItself(hold)) {
      // A parked event stands from when it happened. Lateness came to light only when it was written down: it must not
      // keep open the very shipment that it is about.
      const parkedAt = hold.reason === 'event-parked' ? hold.causes[0]?.at : undefined;
      const raisedAt = parkedAt ?? orderTime(hold.raisedAt);
      world.standing.push({ subject, unit: hold.unit, reason: hold.reason, raisedAt, releasedAt });
    } else if (releasedAt !== null) {
      for (const event of hold.causes) world.releases.set(causeKey({ ...hold, event }), releasedAt);
    }
  }
  return world;
}

/** A world for judging the next events of subjects whose story so far is told by their records. */
export function worldFromRecords(
  records: readonly SubjectRecord[],
  holds: readonly HoldRecord[],
  traces: World['traces'],
  clearances: World['clearances'],
): World {
  const world = worldFromHolds(holds, traces, clearances);
  for (const { state } of records) {
    if (state?.kind === 'unit') world.units.set(`${state.state.assembly}/${state.state.serial}`, state.state);
    else if (state?.kind === 'device') world.devices.set(state.state.device, state.state);
    else if (state?.kind === 'station') world.stations.set(state.state.station, state.state);
  }
  for (const hold of holds) {
    if (hold.state === 'withdrawn' || standsByItself(hold)) continue;
    const { reason, subject, evidence, remedy } = hold;
    if (!isSubject(subject)) continue;
    for (const event of hold.causes) world.causes.push({ reason, subject, event, evidence, remedy });
  }
  return world;
}
