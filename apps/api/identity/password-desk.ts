import { Inject, Injectable } from '@nestjs/common';
import { checkPassword, type PasswordVerdict } from '../../../libs/ledger/identity/check-password.js';
import { hashPassword } from '../../../libs/ledger/identity/password-hash.js';
import { passwordFault } from '../../../libs/ledger/identity/password-rule.js';
import { signIn, type SignedIn } from '../../../libs/ledger/identity/sign-in.js';
import { passwordGate, WorkGateFull } from '../../../libs/ledger/identity/work-gate.js';
import type { Person } from '../../../libs/ledger/ports/person-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

/** How long those who found the line full may wait: it is worked off in about a second. */
const RETRY_AFTER_S = 2;

/** What of the service the desk works with. */
type PasswordDeskDeps = Pick<ApiDeps, 'identity' | 'clock'> & { readonly intake: Pick<ApiDeps['intake'], 'seal'> };

/** Checks and hashes passwords, a few at a time, and says in problems what is the matter with them. */
@Injectable()
export class PasswordDesk {
  /** A line for strangers and one for those who have signed in: a crowd at the door does not stop signing. */
  private readonly door = passwordGate();
  private readonly desk = passwordGate(1);

  constructor(@Inject(API_DEPS) private readonly deps: PasswordDeskDeps) {}

  /** @throws ProblemError sign-in-failed, too-many-attempts, unavailable */
  async signIn(credentials: { name: string; password: string }): Promise<SignedIn> {
    const { identity, clock, intake } = this.deps;
    const result = await this.inLine(signIn({ ...identity, clock, gate: this.door, seal: intake.seal }, credentials));
    if (result.kind === 'signed-in') return result;
    if (result.kind === 'locked') throw tooMany(result);
    throw new ProblemError(
      'sign-in-failed',
      'Name and password are not those of an account in use. Try again, or ask an admin to set a new password.',
    );
  }

  /**
   * Makes sure that whoever asks is still the person who signed in.
   * @throws ProblemError wrong-password, too-many-attempts, unavailable
   */
  async confirm(name: string, password: string): Promise<Person> {
    const { identity, clock } = this.deps;
    const asked = { name, password, askedAt: 'desk' } as const;
    const verdict = await this.inLine(checkPassword({ ...identity, clock, gate: this.desk }, asked));
    if (verdict.kind === 'right') return verdict.person;
    if (verdict.kind === 'locked') throw tooMany(verdict);
    throw new ProblemError('wrong-password', `This is not the password of ${name}; give it again.`);
  }

  /** Hashes a new password. @throws ProblemError invalid-body where it is not fit to be one, unavailable */
  hash(name: string, password: string): Promise<string> {
    const fault = passwordFault(password, name);
    if (fault !== undefined) {
      const errors = [{ pointer: '/password', detail: fault }];
      throw new ProblemError('invalid-body', `/password ${fault}.`, { errors });
    }
    return this.inLine(this.desk.run(() => hashPassword(password)));
  }

  private async inLine<T>(work: Promise<T>): Promise<T> {
    try {
      return await work;
    } catch (error) {
      if (!(error instanceof WorkGateFull)) throw error;
      const headers = { 'retry-after': String(RETRY_AFTER_S) };
      const detail = 'Too many passwords are being checked. Send the request again after Retry-After seconds.';
      throw new ProblemError('unavailable', detail, { headers });
    }
  }
}

function tooMany({ retryAfterSeconds }: Extract<PasswordVerdict, { kind: 'locked' }>): ProblemError {
  return new ProblemError(
    'too-many-attempts',
    `Too many passwords were wrong. Try again after ${retryAfterSeconds} s; until then the right one is refused, too. An admin may set a new one.`,
    { headers: { 'retry-after': String(retryAfterSeconds) } },
  );
}
