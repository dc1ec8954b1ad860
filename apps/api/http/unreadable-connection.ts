import type { Duplex } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import type { OpenAnswers } from './open-answers.js';
import { PROBLEMS, type ProblemCode } from './problem-table.js';
import { sendRawProblem, writeRawProblem } from './raw-problem.js';

type Told = readonly [ProblemCode, string];

/** By Node's code of what went wrong before there was a request; anything else is no HTTP. */
const PROBLEM_OF: Readonly<Record<string, Told>> = {
  ERR_HTTP_REQUEST_TIMEOUT: ['request-timeout', 'The request did not come in time; send it again as a whole.'],
  HPE_HEADER_OVERFLOW: ['headers-too-large', 'Headers and address together are too large; send fewer or shorter ones.'],
  HPE_CHUNK_EXTENSIONS_OVERFLOW: ['too-large', 'The extensions of a chunk are too large; leave them out.'],
};
const NO_HTTP: Told = ['bad-request', 'What came is no request of HTTP/1.1, or ends in the middle of one.'];
const CONNECT_REFUSED = 'This is no proxy: it does not take CONNECT.';
const NOTHING_EXPECTED = 'Leave Expect out, or send Expect: 100-continue.';

/**
 * Answers with problems what never becomes a request of a route, and what Node would answer with an empty body.
 * @param count hears of each, with the status that was answered
 */
export function answerUnreadable(instance: FastifyInstance, count: (status: number) => void): void {
  const { server } = instance;
  server.on('checkExpectation', (_request, response) => {
    count(PROBLEMS['expectation-failed'].status);
    sendRawProblem(response, 'expectation-failed', NOTHING_EXPECTED);
  });
  server.on('connect', (_request, socket) => {
    // Whoever asks for a tunnel may be gone before it is refused.
    socket.on('error', () => socket.destroy());
    count(PROBLEMS['method-not-allowed'].status);
    writeRawProblem(socket, 'method-not-allowed', CONNECT_REFUSED);
  });
}

/**
 * Takes what cannot be read, and whoever is too slow. An answer that the connection waits for comes first, as it was asked
 * for first; one that has begun is not mixed with another.
 */
export function unreadableConnection(answers: OpenAnswers, count: (status: number) => void) {
  return (error: Error & { readonly code?: string }, socket: Duplex): void => {
    if (error.code === 'ECONNRESET' || !socket.writable) {
      socket.destroy();
      return;
    }
    const [code, detail] = PROBLEM_OF[error.code ?? ''] ?? NO_HTTP;
    const answer = (): void => {
      if (!socket.writable) return;
      count(PROBLEMS[code].status);
      writeRawProblem(socket, code, detail);
    };
    const last = answers.lastOf(socket);
    if (last === undefined || (answers.countOf(socket) === 1 && !last.req.complete && !last.headersSent)) answer();
    else if (last.req.complete) last.once('close', answer);
    else socket.destroy();
  };
}
