import { EventIds } from './event-id.js';
import { StationEventData, StationEventType } from './station-event-data.js';

/** A station event as it is posted: CloudEvents 1.0 in JSON. */
export interface StationCloudEvent<T extends StationEventType = StationEventType> {
  readonly specversion: '1.0';
  readonly type: T;
  /** `/stations/{station}`. */
  readonly source: string;
  /** With the source it names the event for ever. */
  readonly id: string;
  /** `{assembly}/{serial}`, `devices/{device}` or `stations/{station}`. */
  readonly subject: string;
  /** When it happened, RFC 3339 with offset. */
  readonly time: string;
  readonly data: StationEventData[T];
  /** Extension attributes of CloudEvents. */
  readonly [attribute: string]: unknown;
}

export interface EventDraft<T extends StationEventType> {
  readonly type: T;
  readonly station: string;
  readonly subject: string;
  readonly data: StationEventData[T];
  /** When it happened; now where left out. */
  readonly time?: Date | string;
  /** Of your own making, unique for this station; made where left out. */
  readonly id?: string;
  /** Extension attributes of CloudEvents: 1 to 20 of a-z 0-9. */
  readonly extensions?: Readonly<Record<string, string | number | boolean>>;
}

const ids = new EventIds();

/** Makes an event of what a station has to tell. Keep it as it is until it is answered for: a repeat must be the same. */
export function buildEvent<T extends StationEventType>(draft: EventDraft<T>): StationCloudEvent<T> {
  const { type, station, subject, data, time = new Date(), id = ids.next(), extensions } = draft;
  return {
    ...extensions,
    specversion: '1.0',
    type,
    source: stationSource(station),
    id,
    subject,
    time: typeof time === 'string' ? time : time.toISOString(),
    data,
  };
}

/** The `source` of what a station says. */
export function stationSource(station: string): string {
  return `/stations/${station}`;
}

/** The `subject` of what happens to a board. */
export function unitSubject(assembly: string, serial: string): string {
  return `${assembly}/${serial}`;
}

/** The `subject` of what happens to a loose device. */
export function deviceSubject(device: string): string {
  return `devices/${device}`;
}

/** The `subject` of what happens to a station itself, such as the analysis of its bath. */
export function stationSubject(station: string): string {
  return `stations/${station}`;
}
