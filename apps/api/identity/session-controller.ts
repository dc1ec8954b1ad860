import { Body, Controller, Delete, Get, HttpCode, Post, Req, Res } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { SignedIn } from '../../../libs/ledger/identity/sign-in.js';
import { csrfTokenOf, expiryOf } from '../../../libs/ledger/identity/session-life.js';
import { RefusalLimits } from '../access/refusal-limits.js';
import { NameField } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { PasswordDesk } from './password-desk.js';
import { PasswordField } from './password-field.js';
import { Open, PEOPLE, Roles, type SignedInSession } from './roles.js';
import { giveCookie, takeCookie, tokenIn } from './session-cookie.js';
import { principalOf, SessionDesk } from './session-desk.js';

export class SignInBody {
  @NameField()
  readonly name!: string;

  @PasswordField()
  readonly password!: string;
}

/** Who has signed in, and what their page needs to go on. */
interface SessionAnswer {
  readonly name: string;
  readonly printedName: string;
  readonly roles: readonly string[];
  readonly customer?: string;
  /** To be sent as X-CSRF-Token with whatever changes something. */
  readonly csrfToken: string;
  /** RFC 3339 UTC: when it ends unless it is used. */
  readonly expiresAt: string;
}

@ApiTags('people')
@Controller('v1/session')
export class SessionController {
  constructor(
    private readonly passwords: PasswordDesk,
    private readonly sessions: SessionDesk,
    private readonly refusals: RefusalLimits,
  ) {}

  @Post()
  @Open()
  @HttpCode(200)
  @Answers(
    200,
    'Signed in: the session is in the cookie heatbook_session, over HTTPS __Host-heatbook_session.',
    ref('Session'),
  )
  @Problems(
    'unreadable-json',
    'sign-in-failed',
    'invalid-body',
    'too-many-attempts',
    'too-many-refusals',
    'unavailable',
  )
  async signIn(
    @Body() { name, password }: SignInBody,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SessionAnswer> {
    const { person, session, token } = await this.checked(request, { name, password });
    // A browser that signs in anew leaves no session behind.
    const secure = this.sessions.cameSecure(request);
    const before = tokenIn(request, secure);
    if (before !== undefined) await this.sessions.endToken(before);
    giveCookie(reply, token, secure);
    return answerOf({ person, session, csrfToken: csrfTokenOf(token) });
  }

  /** A wrong password stays counted against its client; so does one that a locked account did not look at. */
  private async checked(request: FastifyRequest, credentials: { name: string; password: string }): Promise<SignedIn> {
    this.refusals.countPassword(request);
    try {
      const signedIn = await this.passwords.signIn(credentials);
      this.refusals.forgetPassword(request);
      return signedIn;
    } catch (error) {
      if (!(error instanceof ProblemError) || error.code === 'unavailable') this.refusals.forgetPassword(request);
      throw error;
    }
  }

  @Get()
  @Roles(...PEOPLE)
  @Answers(200, 'Who has signed in.', ref('Session'))
  @Problems('not-found')
  getSession(@Req() request: FastifyRequest): SessionAnswer {
    return answerOf(signedIn(request));
  }

  @Delete()
  @Roles(...PEOPLE)
  @HttpCode(204)
  @ApiResponse({ status: 204, description: 'Signed out: the session has ended.' })
  @Problems('not-found')
  async signOut(@Req() request: FastifyRequest, @Res({ passthrough: true }) reply: FastifyReply): Promise<void> {
    await this.sessions.end(signedIn(request).session.tokenHash);
    takeCookie(reply, this.sessions.cameSecure(request));
  }
}

function signedIn({ signedIn: found }: FastifyRequest): SignedInSession {
  if (found !== null) return found;
  throw new ProblemError('not-found', 'The request carries a key and is in no session; people begin one with POST.');
}

function answerOf({ person, session, csrfToken }: SignedInSession): SessionAnswer {
  const { name, roles, customer } = principalOf(person);
  const { printedName } = person;
  return {
    ...{ name, printedName, roles, csrfToken, expiresAt: expiryOf(session) },
    ...(customer !== undefined && { customer }),
  };
}
