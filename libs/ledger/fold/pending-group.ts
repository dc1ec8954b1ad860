import { devicesAboard, devicesNamed } from '../../domain/book/reach.js';
import { compareOrder, EventOrder } from '../../domain/events/event-order.js';
import { StationEvent } from '../../domain/events/station-event.js';
import { deviceKey, StreamKey } from '../../domain/subject/subject.js';
import { clearanceNamed } from './known-clearances.js';
import { PendingEvent, SubjectRecord } from '../ports/book-store.js';

/** Pending events that share subjects, in the order in which they happened, and the subjects that they reach. */
export interface PendingGroup {
  readonly events: readonly PendingEvent[];
  readonly keys: readonly StreamKey[];
}

/** Subjects as a transaction found them, by key. */
export type Records = ReadonlyMap<StreamKey, SubjectRecord>;

/** Keys that an event reaches: its own subject, the devices it names, and those that its unit is known to carry. */
function keysReached(event: StationEvent, records: Records): StreamKey[] {
  const record = records.get(event.subject)?.state;
  const keys = [event.subject];
  for (const device of devicesNamed(event)) keys.push(deviceKey(device));
  if (record?.kind === 'unit') for (const device of devicesAboard(record.state)) keys.push(deviceKey(device));
  return keys;
}

/** Splits pending events into groups that have no subject and no clearance in common. */
export function groupPending(pending: readonly PendingEvent[], records: Records): PendingGroup[] {
  const parent = new Map<StreamKey, StreamKey>();
  const find = (key: StreamKey): StreamKey => {
    let root = key;
    for (let up = parent.get(root); up !== undefined; up = parent.get(root)) root = up;
    if (root !== key) parent.set(key, root);
    return root;
  };
  const reached = pending.map(({ event }) => keysReached(event, records));
  for (const [index, [first, ...others]] of reached.entries()) {
    if (first === undefined) continue;
    // Two events that use one clearance are told one after the other, whatever else they reach.
    const clearance = clearanceNamed(pending[index]?.event.data);
    const joint = clearance === undefined ? others : [...others, `#clearances/${clearance}`];
    const root = find(first);
    for (const key of joint) {
      const other = find(key);
      if (other !== root) parent.set(other, root);
    }
  }
  const groups = new Map<StreamKey, { events: PendingEvent[]; keys: Set<StreamKey> }>();
  pending.forEach((item, index) => {
    const root = find(item.event.subject);
    const group = groups.get(root) ?? { events: [], keys: new Set() };
    group.events.push(item);
    for (const key of reached[index] ?? []) group.keys.add(key);
    groups.set(root, group);
  });
  return [...groups.values()].map(({ events, keys }) => ({
    events: events.sort((a, b) => compareOrder(a.event.order, b.event.order)),
    keys: [...keys],
  }));
}

/** Whether an event happened before something that its subjects have already been told. */
export function isLate({ events, keys }: PendingGroup, records: Records): boolean {
  const [first] = events;
  const isToldPast = (key: StreamKey, order: EventOrder): boolean => {
    const last = lastOf(records.get(key));
    return last !== null && compareOrder(last, order) > 0;
  };
  // Nearly every group ends here: none of its subjects has been told past its first event, let alone past a later one.
  if (first === undefined || !keys.some((key) => isToldPast(key, first.event.order))) return false;
  return events.some(({ event }) => keysReached(event, records).some((key) => isToldPast(key, event.order)));
}

function lastOf(record: SubjectRecord | undefined): EventOrder | null {
  return record?.state?.state.last ?? null;
}
