export { openStation, type Station, type StationOptions, type Telling } from './station/station.js';
export { openOutbox, type Outbox } from './outbox/outbox.js';
export type { Delivered, OutboxOptions, OutboxStatus, Retrying } from './outbox/outbox-options.js';
export type { Rejected } from './spool/set-aside.js';
export type { Server } from './http/call-heatbook.js';
export type { RetryPace } from './http/retry-pause.js';
export {
  buildEvent,
  deviceSubject,
  type EventDraft,
  type StationCloudEvent,
  stationSource,
  stationSubject,
  unitSubject,
} from './events/build-event.js';
export { checkEvent } from './events/check-event.js';
export type { EventFault } from './event-fault.js';
export type * from './events/station-event-data.js';
export { type ClearanceOptions, requestClearance, returnClearance } from './clearance/request-clearance.js';
export type * from './clearance/clearance-request.js';
export { measureClock, type MeasureClockOptions } from './clock/measure-clock.js';
export { ClockEstimate, type ClockOffset } from './clock/clock-estimate.js';
export {
  BadEvent,
  Closed,
  KeyRefused,
  NotDrained,
  type Problem,
  RequestRefused,
  SpoolBroken,
  SpoolFull,
  SpoolLocked,
  StationError,
  Unreachable,
} from './errors.js';
