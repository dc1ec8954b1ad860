import { timingSafeEqual } from 'node:crypto';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { csrfTokenOf } from '../../../libs/ledger/identity/session-life.js';
import type { RefusalLimits } from '../access/refusal-limits.js';
import { ProblemError } from '../http/problem.js';
import { KeyRing } from './key-ring.js';
import { tokenIn } from './session-cookie.js';
import { principalOf, SessionDesk } from './session-desk.js';

/** Where people sign in. */
const SIGN_IN = '/v1/session';
/** What else is open under /v1: figures of the log by which anyone can keep an eye on it, and which name nobody. */
const OPEN_READS: readonly string[] = ['/v1/log/checkpoint', '/v1/log/keys', '/v1/log/proofs/consistency'];

const SAFE_METHODS: readonly string[] = ['GET', 'HEAD', 'OPTIONS'];

/**
 * Asks every request under /v1 for a key or a session before its body is read, whether or not the address exists. Where
 * both are sent the key counts. What a caller may do is for the guard to say.
 */
export function authenticateRequests(
  instance: FastifyInstance,
  { keys, sessions, refusals }: { keys: KeyRing; sessions: SessionDesk; refusals: RefusalLimits },
): void {
  instance.decorateRequest('caller', null);
  instance.decorateRequest('signedIn', null);
  instance.addHook('onRequest', async (request) => {
    // Probes must get their answer even when keys cannot be looked up.
    if (!needsCaller(request)) return;
    const { authorization } = request.headers;
    if (authorization === undefined) await admitSession(request, sessions);
    else request.caller = (await keys.identify(authorization)) ?? null;
    if (request.caller !== null) return;
    refusals.countKey(request);
    throw unknownCaller(authorization !== undefined);
  });
}

async function admitSession(request: FastifyRequest, sessions: SessionDesk): Promise<void> {
  const token = tokenIn(request, sessions.cameSecure(request));
  const found = token === undefined ? undefined : await sessions.find(token);
  if (token === undefined || found === undefined) return;
  const csrfToken = csrfTokenOf(token);
  // A browser sends the cookie for whoever makes it ask; only a page that can read our answers knows this token.
  if (!SAFE_METHODS.includes(request.method) && !isSame(request.headers['x-csrf-token'], csrfToken)) {
    throw new ProblemError(
      'csrf-token-required',
      'Send the csrfToken of GET /v1/session as X-CSRF-Token with whatever changes something.',
    );
  }
  request.caller = principalOf(found.person);
  request.signedIn = { ...found, csrfToken };
}

function needsCaller({ pattern, url, method }: FastifyRequest): boolean {
  const route = (pattern ?? url).toLowerCase();
  if (OPEN_READS.includes(route) && SAFE_METHODS.includes(method)) return false;
  return route.startsWith('/v1') && !(route === SIGN_IN && method === 'POST');
}

function unknownCaller(sentKey: boolean): ProblemError {
  const detail = sentKey
    ? 'Send Authorization: Bearer with a key that was issued and not revoked.'
    : 'Send Authorization: Bearer with a key that was issued and not revoked, or sign in with POST /v1/session.';
  return new ProblemError('key-required', detail, { headers: { 'www-authenticate': 'Bearer realm="heatbook"' } });
}

function isSame(given: string | string[] | undefined, expected: string): boolean {
  if (typeof given !== 'string') return false;
  const [a, b] = [Buffer.from(given), Buffer.from(expected)];
  return a.length === b.length && timingSafeEqual(a, b);
}
