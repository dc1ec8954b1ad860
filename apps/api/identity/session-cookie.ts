import type { FastifyReply, FastifyRequest } from 'fastify';

export const SESSION_COOKIE = 'heatbook_session';
/** Its name over HTTPS. Browsers take such a cookie from this very host alone, so that no neighbour under the same domain plants one. */
const HOST_COOKIE = `__Host-${SESSION_COOKIE}`;

/** Neither script nor another site gets at it. Without an age it ends with the browser, if the session does not before. */
const COOKIE = { httpOnly: true, sameSite: 'strict', path: '/' } as const;

/**
 * The token that a request carries; undefined for none, or one that is not of the form of ours.
 * @param secure whether it came by HTTPS: the other cookie may then be somebody else's
 */
export function tokenIn({ cookies }: Pick<FastifyRequest, 'cookies'>, secure: boolean): string | undefined {
  const token = cookies[HOST_COOKIE] ?? (secure ? undefined : cookies[SESSION_COOKIE]);
  return token !== undefined && /^[A-Za-z0-9_-]{43}$/.test(token) ? token : undefined;
}

export function giveCookie(reply: FastifyReply, token: string, secure: boolean): void {
  void reply.setCookie(secure ? HOST_COOKIE : SESSION_COOKIE, token, { ...COOKIE, secure });
}

export function takeCookie(reply: FastifyReply, secure: boolean): void {
  void reply.clearCookie(secure ? HOST_COOKIE : SESSION_COOKIE, { ...COOKIE, secure });
}

/**
 * Whether a request came by HTTPS, or counts as if it had. A browser keeps a secure cookie from plain HTTP; whoever serves that on
 * purpose, on loopback, could not sign in. What a proxy says of it is believed of any: it can only make the cookie stricter.
 * @param always whether all do
 */
export function cameSecure(
  { headers, protocol }: Pick<FastifyRequest, 'headers' | 'protocol'>,
  always: boolean,
): boolean {
  const [forwarded] = String(headers['x-forwarded-proto']).split(',');
  return always || protocol === 'https' || forwarded === 'https';
}
