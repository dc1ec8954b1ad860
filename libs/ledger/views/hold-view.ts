import { readableTime } from '../../domain/events/event-order.js';
import { HoldRecord } from '../holds/hold-record.js';

/** What called for a hold: the first station event that did, or the person who raised it. */
type HoldCause =
  | { readonly source: string; readonly id: string; readonly time: string }
  | { readonly by: string; readonly note: string };

/** A hold as lists show it. */
export interface HoldView extends Pick<
  HoldRecord,
  | 'id'
  | 'state'
  | 'reason'
  | 'subject'
  | 'raisedAt'
  | 'evidence'
  | 'remedy'
  | 'unit'
  | 'customer'
  | 'station'
  | 'operator'
  | 'raisedBy'
  | 'release'
  | 'causeGone'
> {
  readonly cause: HoldCause | null;
}

export function holdView(hold: HoldRecord): HoldView {
  const { id, state, reason, subject, raisedAt, evidence, remedy, unit } = hold;
  const { customer, station, operator, raisedBy, release, causeGone } = hold;
  const cause = causeOf(hold);
  return {
    ...{ id, state, reason, subject, raisedAt, cause, evidence, remedy, unit },
    ...{ customer, station, operator, raisedBy, release, causeGone },
  };
}

function causeOf({ causes, raisedBy, evidence }: HoldRecord): HoldCause | null {
  const [first] = causes;
  if (first !== undefined) return { source: first.source, id: first.id, time: readableTime(first.at) };
  return raisedBy === null ? null : { by: raisedBy, note: evidence.summary };
}
