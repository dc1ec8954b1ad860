import { isUtf8 } from 'node:buffer';
import type { Readable } from 'node:stream';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { EVENT_MEDIA_TYPES } from '../../../libs/ledger/intake/event-form.js';
import { findJsonFaults } from '../../../libs/ledger/intake/strict-json.js';
import { BodyPlace, BodyRoom } from './body-room.js';
import { ProblemError } from './problem.js';
import { readBody } from './read-body.js';
import {
  ARCHIVE_BODY_BYTES,
  EVENTS_BODY_BYTES,
  JSON_BODY_BYTES,
  type ServerLimits,
  SIGN_IN_BODY_BYTES,
  TRACE_BODY_BYTES,
} from './server-limits.js';

export const EVENTS_PATH = '/v1/events';
const TRACE_PATH = '/v1/traces/:trace';
const ARCHIVES_PATH = '/v1/audits';
const SIGN_IN_PATH = '/v1/session';

/**
 * Sets which bodies are taken: station events as text, since their reader judges the text itself; traces as bytes,
 * since they are kept as they come; everything else as strict JSON. Must be called before routes are added.
 */
export function useBodyParsers(instance: FastifyInstance, limits: ServerLimits): void {
  const rooms = { bulk: new BodyRoom(limits.bulkBodies), other: new BodyRoom(limits.otherBodies) };
  instance.removeAllContentTypeParsers();
  instance.addHook('onRoute', (route) => {
    route.bodyLimit = BODY_BYTES[route.url] ?? JSON_BODY_BYTES;
  });
  instance.decorateRequest('place', null);
  // Of a connection that breaks before there is an answer the room itself learns.
  instance.addHook('onResponse', (request, _reply, done) => {
    request.place?.leave();
    done();
  });
  const parse = (types: string | string[], read: (request: FastifyRequest, body: Buffer) => unknown): void => {
    instance.addContentTypeParser(types, (request: FastifyRequest, payload: Readable, done) => {
      readBody(request, payload, placeFor(request, rooms), (error, body) => {
        if (error === null) answer(done, () => read(request, body));
        else done(error);
      });
    });
  };
  parse('application/json', (request, body) => {
    if (takesTrace(request)) throw new ProblemError('unknown-media-type', 'Send the trace as text/csv.');
    return takesEvents(request) ? textOf(body) : parseStrictJson(textOf(body));
  });
  parse([...EVENT_MEDIA_TYPES], (request, body) => {
    if (takesEvents(request)) return textOf(body);
    throw new ProblemError('unknown-media-type', 'Send application/json; only POST /v1/events takes this type.');
  });
  parse('text/csv', (request, body) => {
    if (takesTrace(request)) return body;
    throw new ProblemError('unknown-media-type', 'Send application/json; only PUT /v1/traces/{trace} takes this type.');
  });
}

declare module 'fastify' {
  interface FastifyRequest {
    /** What its body takes up; null where it has none, or takes no room. */
    place: BodyPlace | null;
  }
}

/**
 * Events and traces have a room of their own: however many there are, a request for clearance finds one. Whoever signs in is
 * not known yet, and would share with all strangers: such bodies are small in place of being counted.
 */
function placeFor(request: FastifyRequest, rooms: Readonly<Record<'bulk' | 'other', BodyRoom>>): BodyPlace | undefined {
  const { caller, raw } = request;
  if (caller === null) return undefined;
  const room = takesEvents(request) || takesTrace(request) ? rooms.bulk : rooms.other;
  return (request.place = room.enter(`${caller.via} ${caller.name}`, raw.socket));
}

const BODY_BYTES: Readonly<Record<string, number>> = {
  [EVENTS_PATH]: EVENTS_BODY_BYTES,
  [TRACE_PATH]: TRACE_BODY_BYTES,
  [ARCHIVES_PATH]: ARCHIVE_BODY_BYTES,
  [SIGN_IN_PATH]: SIGN_IN_BODY_BYTES,
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
