import { orderTime } from '../../domain/events/event-order.js';
import { StationEvent, StationEventData, StationEventType } from '../../domain/events/station-event.js';

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
 * One of a type that this version does not know, as a newer one may have taken in beside it, passes: it fails when it is
 * judged, alone, where failing here would keep whatever is claimed with it from being folded.
 * @throws RangeError where the payload has no usable time.
 */
export function parseStored(payload: string): StationEvent {
  const { source, id, type, subject, time, data = {} } = JSON.parse(payload) as StoredPayload;
  const order = { at: orderTime(time), source, id };
  // Type and data fit together, since the payload was checked as a whole; the union cannot be told so member by member.
  return { type, subject, station: source.slice(STATIONS.length), order, time, data } as StationEvent;
}
