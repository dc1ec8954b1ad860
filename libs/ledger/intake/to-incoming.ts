import { IncomingEvent } from '../ports/book-store.js';
import { Seal } from '../ports/seal.js';
import { CheckedEvent } from './check-event.js';

/**
 * An event as the inbox takes it. Its content hash is over the whole event, extension attributes included: how it was
 * spelt does not matter (key order, white space, `1.50` for `1.5`), and anything it says does.
 */
export function toIncoming(event: CheckedEvent, seal: Seal): IncomingEvent {
  const payload = seal.canonical(event.body);
  const { source, id, type, subject } = event;
  return { source, id, type, subject, contentHash: seal.sha256Hex(payload), payload };
}
