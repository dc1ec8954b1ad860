import { StationEventData, StationEventType } from '../domain/events/station-event.js';

/** A station event as it goes over the wire. */
export interface CloudEvent<T extends StationEventType> {
  readonly specversion: '1.0';
  readonly type: T;
  /** `/stations/{station}`. */
  readonly source: string;
  readonly id: string;
  readonly subject: string;
  readonly time: string;
  readonly datacontenttype: 'application/json';
  readonly data: StationEventData[T];
}

export type StationCloudEvent = { [T in StationEventType]: CloudEvent<T> }[StationEventType];
