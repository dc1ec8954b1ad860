import { AttemptStore } from '../ports/attempt-store.js';
import { Clock } from '../ports/clock.js';
import { Person, PersonStore } from '../ports/person-store.js';
import { afterFailure, AskedAt, countedAs, waitMs } from './back-off.js';
import { isPassword, NOBODYS_HASH } from './password-hash.js';
import { WorkGate } from './work-gate.js';

export interface PasswordDeps {
  readonly people: Pick<PersonStore, 'find'>;
  readonly attempts: AttemptStore;
  readonly clock: Clock;
  readonly gate: WorkGate;
}

/** What a name and a password come to. */
export type PasswordVerdict =
  | { readonly kind: 'right'; readonly person: Person }
  | { readonly kind: 'wrong' }
  /** Too many were wrong. Whether this one is right is not looked at. */
  | { readonly kind: 'locked'; readonly retryAfterSeconds: number };

/**
 * Tells whether the password is that of the account. A name that nobody has, an account that was disabled and a wrong
 * password are told apart neither by the answer nor by the time it takes.
 * @throws WorkGateFull where too many passwords are being checked
 */
export async function checkPassword(
  deps: PasswordDeps,
  { name, password, askedAt = 'door' }: { name: string; password: string; askedAt?: AskedAt },
): Promise<PasswordVerdict> {
  const counted = countedAs(name, askedAt);
  // Looked at beforehand too, so that a locked account costs no place in the line.
  const before = waitMs(await deps.attempts.of(counted), deps.clock.now());
  if (before > 0) return locked(before);
  return deps.gate.run(() =>
    deps.attempts.inTurn<PasswordVerdict>(counted, async (attempts) => {
      const wait = waitMs(attempts, deps.clock.now());
      if (wait > 0) return { keep: attempts, result: locked(wait) };
      const person = await deps.people.find(name);
      const isRight = await isPassword(password, person?.passwordHash ?? NOBODYS_HASH);
      if (isRight && person?.disabled === false) return { keep: undefined, result: { kind: 'right', person } };
      return { keep: afterFailure(attempts, deps.clock.now()), result: { kind: 'wrong' } };
    }),
  );
}

function locked(ms: number): PasswordVerdict {
  return { kind: 'locked', retryAfterSeconds: Math.ceil(ms / 1000) };
}
