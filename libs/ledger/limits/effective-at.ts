import { orderTime } from '../../domain/events/event-order.js';
import { StoredRevision } from '../ports/setup-store.js';

export type LimitRevision = Extract<StoredRevision, { kind: 'limit' }>;

/** When a revision of a limit came, or comes, into force: as it says, and never before it was entered. Normalised. */
export function effectiveAt({ at, body: { effectiveFrom } }: LimitRevision): string {
  const entered = orderTime(at);
  const from = effectiveFrom === undefined ? entered : orderTime(effectiveFrom);
  return from > entered ? from : entered;
}

/** Whether a later revision had taken the place of this one before it came into force. */
export function isOvertaken(revision: LimitRevision, all: readonly LimitRevision[]): boolean {
  const from = effectiveAt(revision);
  if (from === orderTime(revision.at)) return false;
  return all.some((other) => other.revision > revision.revision && effectiveAt(other) < from);
}
