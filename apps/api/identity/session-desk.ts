import { Inject, Injectable } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { findSession } from '../../../libs/ledger/identity/find-session.js';
import { isLive } from '../../../libs/ledger/identity/session-life.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { Person } from '../../../libs/ledger/ports/person-store.js';
import type { Session } from '../../../libs/ledger/ports/session-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { cameSecure } from './session-cookie.js';

/** Knows who has signed in. */
@Injectable()
export class SessionDesk {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  /** The session of a token, with the person as they are now; undefined where it has ended. Keeps it alive. */
  find(token: string): Promise<{ session: Session; person: Person } | undefined> {
    const { identity, clock, intake } = this.deps;
    return findSession({ sessions: identity.sessions, clock, seal: intake.seal }, token);
  }

  /** Whether a request came by HTTPS, or counts as if it had. */
  cameSecure(request: FastifyRequest): boolean {
    return cameSecure(request, this.deps.secureCookies);
  }

  /** Whether a session goes on, without keeping it alive. */
  async isLive(tokenHash: string): Promise<boolean> {
    const found = await this.deps.identity.sessions.find(tokenHash);
    return found !== undefined && !found.person.disabled && isLive(found.session, this.deps.clock.now());
  }

  async endToken(token: string): Promise<void> {
    await this.end(this.deps.intake.seal.sha256Hex(token));
  }

  end(tokenHash: string): Promise<void> {
    return this.deps.identity.sessions.end(tokenHash);
  }
}

/** Who a person is to the routes. */
export function principalOf({ name, roles, customer }: Person): Principal {
  return { name, via: 'session', roles, ...(customer !== null && { customer }) };
}
