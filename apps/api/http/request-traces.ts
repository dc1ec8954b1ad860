import type { FastifyInstance, FastifyRequest } from 'fastify';
import { inSpan, Span, Tracer } from '../../../libs/ledger/ports/tracer.js';
import { traceparentOf } from './request-ref.js';

declare module 'fastify' {
  interface FastifyRequest {
    /** The request as a part of a trace; undefined where nothing is traced. */
    span: Span | undefined;
  }
}

/**
 * Makes each request a span that goes on with the caller's trace, as far as its route is known; probes and pages are not
 * worth one. Without a tracer a request gets no hook at all.
 */
export function useRequestTraces(instance: FastifyInstance, tracer: Tracer | undefined): void {
  instance.decorateRequest('span', undefined);
  if (tracer === undefined) return;
  instance.addHook('onRequest', (request, _reply, done) => {
    const { pattern, method, headers } = request;
    if (pattern?.startsWith('/v1') === true) {
      request.span = tracer.begin(`${method} ${pattern}`, {
        kind: 'server',
        parent: traceparentOf(headers['traceparent']),
        facts: { 'http.request.method': method, 'http.route': pattern, 'heatbook.request_id': request.id },
      });
    }
    done();
  });
  instance.addHook('onResponse', ({ span }, { statusCode }, done) => {
    span?.note({ 'http.response.status_code': statusCode });
    span?.end(statusCode >= 500 ? `status ${String(statusCode)}` : undefined);
    done();
  });
  // A caller who left is answered nothing.
  instance.addHook('onRequestAbort', ({ span }, done) => {
    span?.end('the caller left');
    done();
  });
}

/** Work for a request as a part of its span, where it has one. */
export function inRequestSpan<T>(
  { span }: FastifyRequest,
  tracer: Tracer | undefined,
  name: string,
  work: () => Promise<T>,
): Promise<T> {
  return inSpan(span && tracer, name, { parent: span?.traceparent }, work);
}
