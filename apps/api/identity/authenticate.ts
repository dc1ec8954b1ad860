import type { FastifyInstance } from 'fastify';
import { ProblemError } from '../http/problem.js';
import { KeyRing } from './key-ring.js';

/**
 * Asks every request under /v1 for a key before its body is read, whether or not the address exists. What a key may do
 * is for the guard to say.
 */
export function authenticateRequests(instance: FastifyInstance, keys: KeyRing): void {
  instance.decorateRequest('caller', null);
  instance.addHook('onRequest', async (request) => {
    // Probes must get their answer even when keys cannot be looked up.
    if (!needsKey(request.routeOptions.url, request.url)) return;
    request.caller = (await keys.identify(request.headers.authorization)) ?? null;
    if (request.caller !== null) return;
    throw new ProblemError('key-required', 'Send Authorization: Bearer with a key that was issued and not revoked.', {
      headers: { 'www-authenticate': 'Bearer realm="heatbook"' },
    });
  });
}

function needsKey(route: string | undefined, url: string): boolean {
  return (route ?? url).toLowerCase().startsWith('/v1');
}
