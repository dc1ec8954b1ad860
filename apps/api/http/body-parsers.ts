import { isUtf8 } from 'node:buffer';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { EVENT_MEDIA_TYPES } from '../../../libs/ledger/intake/event-form.js';
import { findJsonFaults } from '../../../libs/ledger/intake/strict-json.js';
import { ProblemError } from './problem.js';
import { ARCHIVE_BODY_BYTES, EVENTS_BODY_BYTES, JSON_BODY_BYTES, TRACE_BODY_BYTES } from './server-limits.js';

export const EVENTS_PATH = '/v1/events';
const TRACE_PATH = '/v1/traces/:trace';
const ARCHIVES_PATH = '/v1/audits';

/**
 * Sets which bodies are taken: station events as text, since their reader judges the text itself; traces as bytes,
 * since they are kept as they come; everything else as strict JSON. Must be called before routes are added.
 */
export function useBodyParsers(instance: FastifyInstance): void {
  instance.removeAllContentTypeParsers();
  instance.addHook('onRoute', (route) => {
    route.bodyLimit = BODY_BYTES[route.url] ?? JSON_BODY_BYTES;
  });
  instance.addContentTypeParser<Buffer>('application/json', { parseAs: 'buffer' }, (request, body, done) => {
    answer(done, () => {
      if (takesTrace(request)) throw new ProblemError('unknown-media-type', 'Send the trace as text/csv.');
      return takesEvents(request) ? textOf(body) : parseStrictJson(textOf(body));
    });
  });
  instance.addContentTypeParser<Buffer>([...EVENT_MEDIA_TYPES], { parseAs: 'buffer' }, (request, body, done) => {
    answer(done, () => {
      if (takesEvents(request)) return textOf(body);
      throw new ProblemError('unknown-media-type', 'Send application/json; only POST /v1/events takes this type.');
    });
  });
  instance.addContentTypeParser<Buffer>('text/csv', { parseAs: 'buffer' }, (request, body, done) => {
    answer(done, () => {
      if (takesTrace(request)) return body;
      throw new ProblemError(
        'unknown-media-type',
        'Send application/json; only PUT /v1/traces/{trace} takes this type.',
      );
    });
  });
}

const BODY_BYTES: Readonly<Record<string, number>> = {
  [EVENTS_PATH]: EVENTS_BODY_BYTES,
  [TRACE_PATH]: TRACE_BODY_BYTES,
  [ARCHIVES_PATH]: ARCHIVE_BODY_BYTES,
};

function takesEvents(request: FastifyRequest): boolean {
  return request.method === 'POST' && request.pattern === EVENTS_PATH;
}

function takesTrace(request: FastifyRequest): boolean {
  return request.method === 'PUT' && request.pattern === TRACE_PATH;
}

function answer(done: (error: Error | null, body?: unknown) => void, read: () => unknown): void {
  try {
    done(null, read());
  } catch (error) {
    done(error instanceof Error ? error : new Error(String(error)));
  }
}

function textOf(body: Buffer): string {
  if (isUtf8(body)) return body.toString('utf8');
  throw new ProblemError('unreadable-json', 'The body is not UTF-8; send it encoded so.');
}

/**
 * Reads JSON and refuses what two readers could take differently, such as a key that is given twice.
 * @throws ProblemError unreadable-json
 */
function parseStrictJson(text: string): unknown {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new ProblemError('unreadable-json', 'The body is not JSON; send one JSON document.');
  }
  const errors = findJsonFaults(text);
  const [first] = errors;
  if (first === undefined) return value;
  throw new ProblemError('unreadable-json', `${first.detail} Send a body that can be read in one way only.`, {
    errors,
  });
}
