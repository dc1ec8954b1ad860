import { IncomingEvent } from '../ports/book-store.js';
import { Seal } from '../ports/seal.js';
import { EVENT_MEMBERS } from './event-schema.js';
import { CheckedEvent } from './check-event.js';

/**
 * An event as the inbox takes it. Its content hash is over what the event says: how it was spelt does not matter (key
 * order, white space, `1.50` for `1.5`), nor do extension attributes, which carriers and tracers may set anew at every
 * try. The payload keeps them.
 */
export function toIncoming(event: CheckedEvent, seal: Seal): IncomingEvent {
  const payload = seal.canonical(event.body);
  const members: readonly string[] = EVENT_MEMBERS;
  const said = Object.entries(event.body).filter(([member]) => members.includes(member));
  const whole = said.length === Object.keys(event.body).length;
  const hashed = whole ? payload : seal.canonical(Object.fromEntries(said));
  const { source, id, type, subject } = event;
  return { source, id, type, subject, contentHash: seal.sha256Hex(hashed), payload };
}
