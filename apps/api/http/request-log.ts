import { randomUUID } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Log } from '../../../libs/ledger/ports/log.js';
import { parseTraceparent } from '../../../libs/ledger/requests/traceparent.js';
import { EVENTS_PATH } from './body-parsers.js';
import { traceparentOf } from './request-ref.js';
import { safeHeaders } from './safe-headers.js';

const REQUEST_ID = /^[A-Za-z0-9._-]{1,64}$/;

/** What a finished request is counted by. */
export interface RequestFacts {
  readonly method: string;
  /** The route's pattern, never the address: that would name customers' units, and without bound. */
  readonly route: string;
  readonly status: number;
  readonly seconds: number;
}

/** The caller's own request id where it is a sane one, so that logs on both sides can be matched. */
export function requestIdOf(request: IncomingMessage): string {
  const given = request.headers['x-request-id'];
  return typeof given === 'string' && REQUEST_ID.test(given) ? given : randomUUID();
}

/**
 * Puts the headers on every answer that keep browsers from misreading it, and proxies from keeping it.
 * @param isHttpsOnly whether browsers are to come by HTTPS alone
 */
export function useSafeHeaders(instance: FastifyInstance, isHttpsOnly: boolean): void {
  instance.addHook('onRequest', (request, reply, done) => {
    // By the route: the address may be a whole URL.
    const isPrivate = (request.pattern ?? '').startsWith('/v1');
    void reply.headers({ ...safeHeaders(request.id, isHttpsOnly), ...(isPrivate && { 'cache-control': 'no-store' }) });
    done();
  });
}

/** Counts every answer, and logs those that an operator would look for. */
export function useRequestLog(
  instance: FastifyInstance,
  log: Log,
  count: (facts: RequestFacts, problemCode: string | null) => void,
): void {
  instance.addHook('onResponse', (request, reply, done) => {
    const route = request.pattern ?? 'none';
    const facts = { method: request.method, route, status: reply.statusCode, seconds: reply.elapsedTime / 1000 };
    count(facts, request.problemCode);
    if (isWorthALine(route, reply)) log.info('Request.', { ...facts, ...idsOf(request) });
    done();
  });
}

/** What the lines of one request have in common, with those of whoever sent it. */
export function idsOf({ id, headers, span }: FastifyRequest): {
  readonly requestId: string;
  readonly traceId?: string;
} {
  const place = parseTraceparent(span?.traceparent ?? traceparentOf(headers['traceparent']) ?? '');
  return { requestId: id, ...(place && { traceId: place.traceId }) };
}

/** Probes and accepted events come in by the thousand; the metrics count them. */
function isWorthALine(route: string, reply: FastifyReply): boolean {
  if (reply.statusCode >= 400) return true;
  return route.startsWith('/v1') && !(route === EVENTS_PATH && reply.statusCode === 202);
}
