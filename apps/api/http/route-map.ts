import type { FastifyInstance } from 'fastify';

interface KnownRoute {
  readonly pattern: RegExp;
  readonly method: string;
}

/** The addresses that exist with the methods they take, so that a wrong method is told from a wrong address. */
export class RouteMap {
  private readonly routes: KnownRoute[] = [];

  /** Must be called before routes are added. */
  watch(instance: FastifyInstance): void {
    instance.addHook('onRoute', ({ url, method }) => {
      for (const one of [method].flat()) this.routes.push({ pattern: patternOf(url), method: one });
    });
  }

  methodsOf(path: string): string[] {
    const methods = this.routes.filter(({ pattern }) => pattern.test(path)).map(({ method }) => method);
    return [...new Set(methods)].sort();
  }
}

/** `/v1/units/:assembly` as an expression; a parameter is one whole segment in every route here, and `*` is any rest. */
function patternOf(url: string): RegExp {
  const segments = url.split('/').map((segment) => {
    if (segment === '*') return '.*';
    return segment.startsWith(':') ? '[^/]+' : segment.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  });
  return new RegExp(`^${segments.join('/')}$`);
}
