import { readableTime } from '../../domain/events/event-order.js';
import { Decision, decisionOn, HoldRecord } from '../holds/hold-record.js';
import { HoldStage, stageOf } from '../holds/hold-stage.js';

/** What called for a hold: the first station event that did, or the person who raised it. */
type HoldCause =
  | { readonly source: string; readonly id: string; readonly time: string }
  | { readonly by: string; readonly note: string };

/** A hold as everybody sees it who may see its unit, the customer among them. */
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
  | 'dispositions'
  | 'release'
  | 'causeGone'
  | 'containment'
> {
  readonly cause: HoldCause | null;
  readonly stage: HoldStage;
  /** What is decided now: of the last disposition. */
  readonly decision: Decision | null;
}

export function holdView(hold: HoldRecord): HoldView {
  const { id, state, reason, subject, raisedAt, evidence, remedy, unit } = hold;
  const { customer, station, operator, raisedBy, dispositions, release, causeGone, containment } = hold;
  return {
    ...{ id, state, stage: stageOf(hold), reason, subject, raisedAt, cause: causeOf(hold), evidence, remedy, unit },
    ...{ customer, station, operator, raisedBy, decision: decisionOn(hold) ?? null, dispositions, release, causeGone },
    containment,
  };
}

function causeOf({ causes, raisedBy, evidence }: HoldRecord): HoldCause | null {
  const [first] = causes;
  if (first !== undefined) return { source: first.source, id: first.id, time: readableTime(first.at) };
  return raisedBy === null ? null : { by: raisedBy, note: evidence.summary };
}
