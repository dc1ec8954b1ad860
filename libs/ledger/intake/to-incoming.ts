import { IncomingEvent } from '../ports/book-store.js';
import { Seal } from '../ports/seal.js';
import { RequestRef } from '../requests/request-ref.js';
import { EVENT_MEMBERS } from './event-schema.js';
import { CheckedEvent } from './check-event.js';

const SAID: ReadonlySet<string> = new Set(EVENT_MEMBERS);

/**
 * An event as the inbox takes it. Its content hash is over what the event says: how it was spelt does not matter (key
 * order, white space, `1.50` for `1.5`), nor do extension attributes, which carriers and tracers may set anew at every
 * try. The payload keeps them.
 * @param request what brought it, where that is to be kept
 */
export function toIncoming(event: CheckedEvent, seal: Seal, request?: RequestRef): IncomingEvent {
  const payload = seal.canonical(event.body);
  const hashed = Object.keys(event.body).every(isSaid) ? payload : seal.canonical(whatIsSaid(event.body));
  const { source, id, type, subject } = event;
  return { source, id, type, subject, contentHash: seal.sha256Hex(hashed), payload, request };
}

function whatIsSaid(body: CheckedEvent['body']): CheckedEvent['body'] {
  return Object.fromEntries(Object.entries(body).filter(([member]) => isSaid(member)));
}

function isSaid(member: string): boolean {
  return SAID.has(member);
}
