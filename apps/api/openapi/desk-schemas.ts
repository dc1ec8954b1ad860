import { FOUND_KINDS } from '../../../libs/ledger/search/found-item.js';
import { CALIBRATIONS } from '../../../libs/ledger/stations/station-report.js';
import { count, flag, list, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

/** What is asked of the book to look around in it: finds, stations and what they touched. */
export const DESK_SCHEMAS: Record<string, Schema> = {
  FoundItem: record({
    kind: oneOf(...FOUND_KINDS),
    name: text,
    'assembly?': text,
    'serial?': text,
    'device?': text,
    'customer?': text,
    'state?': text,
    'detail?': text,
  }),
  Found: record(
    { items: list(ref('FoundItem')), truncated: flag },
    'Exact names first, then those that begin so, each in order of kind. `truncated`: there is more.',
  ),
  StationReport: record({
    station: text,
    kind: text,
    calibrationDueAt: orNull(time),
    calibration: oneOf(...CALIBRATIONS),
    lastHeardAt: orNull(time),
    lastEventTime: orNull(time),
    pending: count,
    oldestPendingAt: orNull(time),
    parked: count,
    openHolds: count,
  }),
  StationUnit: record({
    assembly: text,
    serial: text,
    customer: text,
    state: text,
    firstAt: time,
    lastAt: time,
    events: count,
  }),
  Queue: record({ pending: count, oldestPendingAt: orNull(time), parked: count }),
};
