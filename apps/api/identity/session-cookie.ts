import type { FastifyReply, FastifyRequest } from 'fastify';

export const SESSION_COOKIE = 'heatbook_session';

/** Neither script nor another site gets at it. Without an age it ends with the browser, if the session does not before. */
const COOKIE = { httpOnly: true, sameSite: 'strict', path: '/' } as const;

/** The token that a request carries; undefined for none, or one that is not of the form of ours. */
export function tokenIn({ cookies }: FastifyRequest): string | undefined {
  const token = cookies[SESSION_COOKIE];
  return token !== undefined && /^[A-Za-z0-9_-]{43}$/.test(token) ? token : undefined;
}

export function giveCookie(reply: FastifyReply, token: string, secure: boolean): void {
  void reply.setCookie(SESSION_COOKIE, token, { ...COOKIE, secure });
}

export function takeCookie(reply: FastifyReply, secure: boolean): void {
  void reply.clearCookie(SESSION_COOKIE, { ...COOKIE, secure });
}
