import type { FastifyInstance } from 'fastify';

declare module 'fastify' {
  interface FastifyRequest {
    /** The route that a request goes to, as `/v1/units/:assembly`; undefined where there is none. */
    pattern: string | undefined;
  }
}

/**
 * Notes on each request where it goes. Hooks and parsers ask for it half a dozen times, and `routeOptions` makes a new
 * object of everything that is known of the route each time. Must be called before hooks are added that ask.
 */
export function useRoutePatterns(instance: FastifyInstance): void {
  instance.decorateRequest('pattern', undefined);
  instance.addHook('onRequest', (request, _reply, done) => {
    request.pattern = request.routeOptions.url;
    done();
  });
}
