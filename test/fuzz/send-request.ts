import { Agent, IncomingMessage, request } from 'node:http';
import { FuzzAnswer, FuzzRequest } from './fuzz-request.js';

/** More of an answer is not looked at. */
const MOST_READ = 65_536;

/**
 * Sends a request and reads what comes back; of a stream of events, its head.
 * @param timeoutMs for the whole of it
 * @throws Error where no answer comes in time, or the connection breaks before it
 */
export function sendRequest(base: URL, agent: Agent, asked: FuzzRequest, timeoutMs: number): Promise<FuzzAnswer> {
  const { method, target, headers, body } = asked;
  const began = performance.now();
  return new Promise((resolve, reject) => {
    const length = body === undefined ? {} : { 'content-length': String(body.length) };
    const sent = request(
      {
        agent,
        host: base.hostname,
        port: base.port,
        method,
        path: target,
        headers: { ...length, ...headers },
        insecureHTTPParser: false,
      },
      (answer) => {
        const done = (text: string): void => {
          clearTimeout(deadline);
          resolve({
            status: answer.statusCode ?? 0,
            headers: answer.headers,
            text,
            elapsedMs: performance.now() - began,
          });
        };
        if (answer.headers['content-type']?.startsWith('text/event-stream') === true) {
          sent.destroy();
          done('');
        } else readText(answer).then(done, fail);
      },
    );
    const fail = (error: Error): void => {
      clearTimeout(deadline);
      reject(error);
    };
    const deadline = setTimeout(() => sent.destroy(new Error(`no answer within ${String(timeoutMs)} ms`)), timeoutMs);
    sent.on('error', fail);
    sent.end(body);
  });
}

async function readText(answer: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of answer as AsyncIterable<Buffer>) {
    if (size < MOST_READ) chunks.push(chunk);
    size += chunk.length;
  }
  return Buffer.concat(chunks).toString('utf8').slice(0, MOST_READ);
}
