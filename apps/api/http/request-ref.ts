import type { FastifyRequest } from 'fastify';
import { RequestRef } from '../../../libs/ledger/requests/request-ref.js';
import { parseTraceparent } from '../../../libs/ledger/requests/traceparent.js';

/**
 * What is kept of a request with the events that it brings: nothing unless the caller named it (X-Request-Id), named its
 * trace (traceparent), or it is being traced here. An id that we drew ourselves nobody would ask for.
 */
export function requestRefOf({ id, headers, span }: FastifyRequest): RequestRef | undefined {
  const own = span?.isRecorded === true ? span.traceparent : undefined;
  const traceparent = own ?? traceparentOf(headers['traceparent']) ?? null;
  if (traceparent === null && headers['x-request-id'] !== id) return undefined;
  return { id, traceparent };
}

/** The caller's place in its trace, as it was given, where it is a sane one. */
export function traceparentOf(header: string | string[] | undefined): string | undefined {
  return typeof header === 'string' && parseTraceparent(header) !== undefined ? header : undefined;
}
