import { devicesNamed } from '../../domain/book/reach.js';
import { deviceKey, StreamKey } from '../../domain/subject/subject.js';
import { PendingEvent } from '../ports/book-store.js';

/**
 * Leaves out the events that name a device of which others have something to tell, and all that have a subject in common
 * with those left out, directly or over others.
 */
export function leaveWaiting(pending: readonly PendingEvent[], unclaimed: readonly StreamKey[]): PendingEvent[] {
  const waiting = new Set(unclaimed);
  let rest = [...pending];
  for (let before = -1; before !== waiting.size;) {
    before = waiting.size;
    rest = rest.filter(({ event }) => {
      const keys = [event.subject, ...devicesNamed(event).map(deviceKey)];
      if (!keys.some((key) => waiting.has(key))) return true;
      for (const key of keys) waiting.add(key);
      return false;
    });
  }
  return rest;
}
