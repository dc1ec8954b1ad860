import { createHmac, randomBytes } from 'node:crypto';
import { Clock } from '../ports/clock.js';
import { Seal } from '../ports/seal.js';
import { Session } from '../ports/session-store.js';

/** A session that is not used ends after an hour, and any after half a day: about a shift. */
const IDLE_MS = 60 * 60_000;
const LONGEST_MS = 12 * 60 * 60_000;

/** Being in use is written down only so often, so that reading stays reading; a session may idle out that much earlier. */
const NOTED_EVERY_MS = 60_000;

/** Makes a session with a token of 32 random bytes, new at every sign-in. Only its hash is ever stored. */
export function newSession(
  deps: { seal: Pick<Seal, 'sha256Hex'>; clock: Clock },
  person: string,
): { token: string; session: Session } {
  const token = randomBytes(32).toString('base64url');
  const at = deps.clock.now();
  return { token, session: { tokenHash: deps.seal.sha256Hex(token), person, startedAt: at, seenAt: at } };
}

/**
 * What a page sends along with every change, to show that it can read our answers and not only make a browser send
 * cookies. It is made from the token, so that it needs no keeping and ends with the session.
 */
export function csrfTokenOf(token: string): string {
  return createHmac('sha256', token).update('heatbook csrf token').digest('base64url');
}

/** When the session ends if it is not used from now on: RFC 3339 UTC. */
export function expiryOf({ startedAt, seenAt }: Session): string {
  return new Date(Math.min(Date.parse(seenAt) + IDLE_MS, Date.parse(startedAt) + LONGEST_MS)).toISOString();
}

/** @param at RFC 3339 UTC */
export function isLive(session: Session, at: string): boolean {
  return Date.parse(at) < Date.parse(expiryOf(session));
}

/** Whether it is time to write down that the session is in use. */
export function isWorthNoting({ seenAt }: Session, at: string): boolean {
  return Date.parse(at) - Date.parse(seenAt) >= NOTED_EVERY_MS;
}
