import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { OpenAnswers } from './open-answers.js';
import { ProblemError } from './problem.js';
import type { ServerLimits } from './server-limits.js';

const RETRY_AFTER_S = 1;

/** Refuses, before anything is looked up for it, a request that is beyond what anybody may send. */
export function useRequestLimits(instance: FastifyInstance, answers: OpenAnswers, limits: ServerLimits): void {
  instance.addHook('onRequest', (request, _reply, done) => {
    done(faultOf(request, answers, limits));
  });
}

function faultOf(
  { raw, headers, url }: FastifyRequest,
  answers: OpenAnswers,
  limits: ServerLimits,
): ProblemError | undefined {
  // Node refuses it too, without a word, and is told not to (`requireHostHeader`).
  if (headers.host === undefined && raw.httpVersion === '1.1') {
    return new ProblemError('bad-request', 'Send the Host header, once.');
  }
  if (url.length > limits.address) {
    return new ProblemError('address-too-long', `An address has at most ${String(limits.address)} characters.`);
  }
  // Names and values in turn.
  if (raw.rawHeaders.length > limits.headers * 2) {
    return new ProblemError('headers-too-large', `A request has at most ${String(limits.headers)} headers.`);
  }
  if (answers.countOf(raw.socket) > limits.atOnce) {
    const detail = `At most ${String(limits.atOnce)} requests wait for their answers on one connection: read these first.`;
    return new ProblemError('too-many-at-once', detail, { headers: { 'retry-after': String(RETRY_AFTER_S) } });
  }
  const { 'content-encoding': coding = 'identity' } = headers;
  if (coding.toLowerCase() === 'identity') return undefined;
  // Packed bodies would have a size that nobody knows before they are unpacked.
  return new ProblemError('unknown-media-type', 'Send the body as it is, without Content-Encoding.', {
    headers: { 'accept-encoding': 'identity' },
  });
}
