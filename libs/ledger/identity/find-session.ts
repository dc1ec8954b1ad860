import { Clock } from '../ports/clock.js';
import { Person } from '../ports/person-store.js';
import { Seal } from '../ports/seal.js';
import { Session, SessionStore } from '../ports/session-store.js';
import { isLive, isWorthNoting } from './session-life.js';

interface SessionDeps {
  readonly sessions: SessionStore;
  readonly clock: Clock;
  readonly seal: Pick<Seal, 'sha256Hex'>;
}

/** The session that a token is of, with the person as they are now; undefined where it has ended. Keeps it alive. */
export async function findSession(
  { sessions, clock, seal }: SessionDeps,
  token: string,
): Promise<{ session: Session; person: Person } | undefined> {
  const found = await sessions.find(seal.sha256Hex(token));
  if (found === undefined) return undefined;
  const { session, person } = found;
  const at = clock.now();
  if (person.disabled || !isLive(session, at)) {
    await sessions.end(session.tokenHash);
    return undefined;
  }
  if (!isWorthNoting(session, at)) return found;
  await sessions.touch(session.tokenHash, at);
  return { person, session: { ...session, seenAt: at } };
}
