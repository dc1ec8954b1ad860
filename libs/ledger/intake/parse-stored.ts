import { orderTime } from '../../domain/events/event-order.js';
import { EVENT_SUBJECTS, StationEvent, StationEventData, StationEventType } from '../../domain/events/station-event.js';

interface StoredPayload {
  readonly source: string;
  readonly id: string;
  readonly type: StationEventType;
  readonly subject: string;
  readonly time: string;
  readonly data?: StationEventData[StationEventType];
}

const STATIONS = '/stations/';

/**
 * The event that an inbox payload holds, as the fold reads it. Payloads were checked before they were stored.
 * @throws RangeError where the payload is of a type that this version does not know, or has no usable time.
 */
export function parseStored(payload: string): StationEvent {
  const { source, id, type, subject, time, data = {} } = JSON.parse(payload) as StoredPayload;
  if (!Object.hasOwn(EVENT_SUBJECTS, type)) throw new RangeError(`unknown event type in the inbox: ${type}`);
  const order = { at: orderTime(time), source, id };
  // Type and data fit together, since the payload was checked as a whole; the union cannot be told so member by member.
  return { type, subject, station: source.slice(STATIONS.length), order, time, data } as StationEvent;
}
