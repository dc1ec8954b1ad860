import { orderTime, readableTime } from '../../domain/events/event-order.js';

/** Minutes that a clock may be ahead of or behind UTC by EPCIS. */
const MOST_OFFSET_MINUTES = 14 * 60;

/** RFC 3339 as the schema of EPCIS has it, with capital letters. */
export function capitalTime(rfc3339: string): string {
  return rfc3339.toUpperCase();
}

/**
 * When an event happened, with the offset of the clock that told it. RFC 3339 has offsets of up to a day, EPCIS of 14 hours:
 * a time with a larger one is given in UTC.
 */
export function epcisTime(rfc3339: string): { readonly eventTime: string; readonly eventTimeZoneOffset: string } {
  const offset = /[+-]\d\d:\d\d$/.exec(rfc3339)?.[0] ?? '+00:00';
  const [hours, minutes] = [offset.slice(1, 3), offset.slice(4)].map(Number);
  if ((hours ?? 0) * 60 + (minutes ?? 0) > MOST_OFFSET_MINUTES) {
    return { eventTime: readableTime(orderTime(rfc3339)), eventTimeZoneOffset: '+00:00' };
  }
  return { eventTime: capitalTime(rfc3339), eventTimeZoneOffset: offset };
}
