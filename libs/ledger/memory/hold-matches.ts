import { orderTime } from '../../domain/events/event-order.js';
import { HoldRecord } from '../holds/hold-record.js';
import { isOverdue, stageOf } from '../holds/hold-stage.js';
import { HoldFilter } from '../ports/read-store.js';

/** Whether a hold fits every field of a filter that is given. */
export function holdMatches(hold: HoldRecord, filter: HoldFilter): boolean {
  return (
    fits(filter.state, hold.state) &&
    fits(filter.reason, hold.reason) &&
    fits(filter.customer, hold.customer) &&
    fits(filter.assembly, hold.unit?.assembly) &&
    fits(filter.serial, hold.unit?.serial) &&
    fits(filter.device, hold.subject.kind === 'device' ? hold.subject.device : null) &&
    fits(filter.station, hold.station) &&
    fits(filter.operator, hold.operator) &&
    fits(filter.subjectKind, hold.subject.kind) &&
    fits(filter.stage, stageOf(hold)) &&
    fits(filter.assignee, hold.assignee) &&
    fits(filter.containment, hold.containment) &&
    (filter.dueBefore === undefined || isOverdue(hold, filter.dueBefore)) &&
    raisedWithin(hold, filter)
  );
}

function fits<T>(wanted: T | undefined, value: T | null | undefined): boolean {
  return wanted === undefined || wanted === value;
}

function raisedWithin({ raisedAt }: HoldRecord, { raisedFrom, raisedTo }: HoldFilter): boolean {
  const at = orderTime(raisedAt);
  if (raisedFrom !== undefined && at < orderTime(raisedFrom)) return false;
  return raisedTo === undefined || at < orderTime(raisedTo);
}
