import { Seal } from '../ports/seal.js';
import { Person } from '../ports/person-store.js';
import { Session, SessionStore } from '../ports/session-store.js';
import { checkPassword, PasswordDeps, PasswordVerdict } from './check-password.js';
import { newSession } from './session-life.js';

export interface SignInDeps extends PasswordDeps {
  readonly sessions: SessionStore;
  readonly seal: Pick<Seal, 'sha256Hex'>;
}

export interface SignedIn {
  readonly kind: 'signed-in';
  readonly person: Person;
  readonly session: Session;
  /** For the cookie, and kept nowhere else. */
  readonly token: string;
}

/**
 * Begins a session for whoever knows the password.
 * @throws WorkGateFull where too many passwords are being checked
 */
export async function signIn(
  deps: SignInDeps,
  credentials: { name: string; password: string },
): Promise<SignedIn | Exclude<PasswordVerdict, { kind: 'right' }>> {
  const verdict = await checkPassword(deps, credentials);
  if (verdict.kind !== 'right') return verdict;
  const { person } = verdict;
  const { token, session } = newSession(deps, person.name);
  const begun = await deps.sessions.begin(session, person.revision);
  return begun ? { kind: 'signed-in', person, session, token } : { kind: 'wrong' };
}
