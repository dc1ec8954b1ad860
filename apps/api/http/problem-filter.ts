import { ArgumentsHost, Catch, ExceptionFilter, HttpException } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Log } from '../../../libs/ledger/ports/log.js';
import { ProblemAnswer, ProblemDocument, ProblemError } from './problem.js';
import type { ProblemCode } from './problem-table.js';
import { isAway } from './is-away.js';
import { idsOf } from './request-log.js';
import { RouteMap } from './route-map.js';

const RETRY_AFTER_S = 2;

/** Turns whatever a request ended with into one problem document. Nothing internal leaves: a 500 names only its request. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  constructor(
    private readonly routes: RouteMap,
    private readonly log: Log,
  ) {}

  catch(error: unknown, host: ArgumentsHost): void {
    const request = host.switchToHttp().getRequest<FastifyRequest>();
    const reply = host.switchToHttp().getResponse<FastifyReply>();
    const problem = this.problemOf(error, request);
    if (reply.sent) return;
    if (!request.raw.complete) readOn(request, reply);
    sendProblem(reply.headers(problem.headers), problem.document);
  }

  private problemOf(error: unknown, request: FastifyRequest): ProblemAnswer {
    if (error instanceof ProblemAnswer) return error;
    if (error instanceof HttpException && error.getStatus() < 500) return this.httpProblem(error, request);
    if (request.raw.errored !== null && error === request.raw.errored) {
      // What broke is the body, as the client left: nobody who runs the service need look into it.
      return new ProblemError('bad-request', 'The request ended before its body did.');
    }
    this.log.error('A request failed.', {
      ...idsOf(request),
      method: request.method,
      route: request.pattern ?? 'none',
      error: error instanceof Error ? (error.stack ?? error.message) : String(error),
    });
    if (isAway(error)) {
      const headers = { 'retry-after': String(RETRY_AFTER_S) };
      return new ProblemError('unavailable', 'Send the request again, unchanged, after Retry-After seconds.', {
        headers,
      });
    }
    return new ProblemError(
      'internal',
      `The request was not completed. Try again; if it stays so, give ${request.id} to whoever runs the service.`,
    );
  }

  /** Errors that Nest and Fastify raise themselves. */
  private httpProblem(error: HttpException, request: FastifyRequest): ProblemError {
    const status = error.getStatus();
    if (status === 404) return this.unrouted(request);
    const [code, detail] = FRAMEWORK_PROBLEMS[status] ?? ['bad-request', error.message];
    return new ProblemError(code, detail);
  }

  private unrouted(request: FastifyRequest): ProblemError {
    const path = request.url.split('?', 1)[0] ?? '/';
    const methods = this.routes.methodsOf(path);
    if (methods.length === 0) {
      return new ProblemError('no-such-route', 'No route has this address; /openapi.json lists those that exist.');
    }
    const allow = methods.join(', ');
    return new ProblemError('method-not-allowed', `This address takes ${allow}.`, { headers: { allow } });
  }
}

/**
 * Whoever still sends a body that is not taken would be cut off, and mostly not see why: what comes is thrown away, for as long as a
 * request may take.
 */
function readOn({ raw }: FastifyRequest, reply: FastifyReply): void {
  // Said either way: Fastify would close it, and once that is taken back Node says nothing of a close that the client wished.
  reply.header('connection', reply.raw.shouldKeepAlive ? 'keep-alive' : 'close');
  raw.resume();
}

const FRAMEWORK_PROBLEMS: Readonly<Record<number, readonly [ProblemCode, string]>> = {
  400: ['bad-request', 'The request is malformed: check its address, headers and body.'],
  413: ['too-large', 'The body is larger than this address takes; send it in smaller parts.'],
  414: ['bad-request', 'A part of the address is too long.'],
  415: [
    'unknown-media-type',
    'Name in Content-Type what is sent: application/json; for station events application/cloudevents+json, application/cloudevents-batch+json or application/x-ndjson; for a trace text/csv.',
  ],
};

export function sendProblem(reply: FastifyReply, problem: ProblemDocument): void {
  const instance = `urn:heatbook:request:${reply.request.id}`;
  reply.request.problemCode = problem.type.slice(problem.type.lastIndexOf(':') + 1);
  void reply
    .status(problem.status)
    .header('content-type', 'application/problem+json; charset=utf-8')
    .header('cache-control', 'no-store')
    .send(JSON.stringify({ ...problem, instance: problem.instance ?? instance }));
}
