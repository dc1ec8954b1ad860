import { randomUUID } from 'node:crypto';
import { type ServerResponse, STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import { problemDocument } from './problem.js';
import type { ProblemCode } from './problem-table.js';
import { safeHeaders } from './safe-headers.js';

interface RawProblem {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

/** Answers with a problem where a request was read, but goes to no route; closes the connection, since a body may follow. */
export function sendRawProblem(response: ServerResponse, code: ProblemCode, detail: string): void {
  const { status, headers, body } = rawProblem(code, detail);
  response.writeHead(status, headers).end(body);
}

/** Writes a problem onto a connection of which nobody knows what comes next, and closes it. */
export function writeRawProblem(socket: Duplex, code: ProblemCode, detail: string): void {
  const { status, headers, body } = rawProblem(code, detail);
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  socket.end(`HTTP/1.1 ${String(status)} ${STATUS_CODES[status] ?? ''}\r\n${lines.join('')}\r\n${body}`);
}

function rawProblem(code: ProblemCode, detail: string): RawProblem {
  const id = randomUUID();
  const problem = problemDocument(code, detail);
  const body = JSON.stringify({ ...problem, instance: `urn:heatbook:request:${id}` });
  const headers = {
    ...safeHeaders(id),
    'content-type': 'application/problem+json; charset=utf-8',
    'cache-control': 'no-store',
    'content-length': String(Buffer.byteLength(body)),
    connection: 'close',
  };
  return { status: problem.status, headers, body };
}
