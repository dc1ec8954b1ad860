import { STATION_EVENT_TYPES, StationEventData, StationEventType } from '../../domain/events/station-event.js';
import { SealedEntry } from '../../ledger/ports/seal.js';

/** A station's fact as an entry has it. */
export type ToldEvent = {
  [T in StationEventType]: { readonly type: T; readonly data: StationEventData[T] };
}[StationEventType];

/** The fact of an entry; undefined where the book or a person wrote it. The book checked its data when it came in. */
export function toldEvent({ type, data }: SealedEntry): ToldEvent | undefined {
  const known = STATION_EVENT_TYPES.find((name) => name === type);
  return known === undefined ? undefined : ({ type: known, data } as ToldEvent);
}

/** The station that said so; undefined where no station did. */
export function stationOf({ event }: Pick<SealedEntry, 'event'>): string | undefined {
  return event?.source.startsWith('/stations/') === true ? event.source.slice('/stations/'.length) : undefined;
}
