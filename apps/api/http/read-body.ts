import type { FastifyRequest } from 'fastify';
import type { Readable } from 'node:stream';
import type { BodyPlace, Crowded } from './body-room.js';
import { ProblemError } from './problem.js';

const RETRY_AFTER_S = 1;

/**
 * Reads a body to its end.
 * @param place what takes room for it; undefined where it is so small that it takes none
 * @param done is given ProblemError too-large, or that there is no room: nothing of such a body was looked at
 */
export function readBody(
  request: FastifyRequest,
  payload: Readable,
  place: BodyPlace | undefined,
  done: (error: Error | null, body: Buffer) => void,
): void {
  const most = request.routeOptions.bodyLimit;
  const chunks: Buffer[] = [];
  let length = 0;
  const end = (error: Error | null): void => {
    payload.off('data', take).off('end', finish).off('error', end);
    done(error, error === null ? Buffer.concat(chunks, length) : NOTHING);
  };
  const take = (chunk: Buffer): void => {
    length += chunk.length;
    const fault = length > most ? tooLarge() : crowdedOut(place?.grow(chunk.length));
    if (fault === undefined) chunks.push(chunk);
    else end(fault);
  };
  const finish = (): void => {
    end(null);
  };
  if (Number(request.headers['content-length']) > most) {
    done(tooLarge(), NOTHING);
    return;
  }
  payload.on('data', take).on('end', finish).on('error', end);
}

const NOTHING = Buffer.alloc(0);

function tooLarge(): ProblemError {
  return new ProblemError('too-large', 'The body is larger than this address takes; send it in smaller parts.');
}

function crowdedOut(crowded: Crowded | undefined): ProblemError | undefined {
  if (crowded === undefined) return undefined;
  const headers = { 'retry-after': String(RETRY_AFTER_S) };
  const then = 'Nothing of this request was kept. Send it again, unchanged, after Retry-After seconds.';
  if (crowded === 'in-all')
    return new ProblemError('unavailable', `Too much waits to be worked on. ${then}`, { headers });
  const detail = `Too much of yours waits for its answers: send less at once. ${then}`;
  return new ProblemError('too-many-at-once', detail, { headers });
}
