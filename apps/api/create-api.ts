import 'reflect-metadata';
import fastifyCookie from '@fastify/cookie';
import { NestApplicationContextOptions } from '@nestjs/common/interfaces/nest-application-context-options.interface.js';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { AccessRecorder } from './access/access-recorder.js';
import { recordAccess } from './access/record-access.js';
import { RefusalLimits } from './access/refusal-limits.js';
import { ApiDeps } from './api-deps.js';
import { ApiModule } from './api-module.js';
import { useBodyParsers } from './http/body-parsers.js';
import { letGoWhenClosing } from './http/let-go.js';
import { OpenAnswers } from './http/open-answers.js';
import { problemDocument } from './http/problem.js';
import { ProblemFilter, sendProblem } from './http/problem-filter.js';
import { useRequestLimits } from './http/request-limits.js';
import { requestIdOf, useRequestLog, useSafeHeaders } from './http/request-log.js';
import { useRequestTraces } from './http/request-traces.js';
import { RouteMap } from './http/route-map.js';
import { useRoutePatterns } from './http/route-pattern.js';
import { safeHeaders } from './http/safe-headers.js';
import { JSON_BODY_BYTES, SERVER_LIMITS, type ServerLimits } from './http/server-limits.js';
import { ShapePipe } from './http/shape-pipe.js';
import { answerUnreadable, unreadableConnection } from './http/unreadable-connection.js';
import { authenticateRequests } from './identity/authenticate.js';
import { KeyRing } from './identity/key-ring.js';
import { SessionDesk } from './identity/session-desk.js';
import { ApiMetrics } from './metrics/api-metrics.js';
import { openApiDocument } from './openapi/openapi-document.js';
import { OpenApiSource } from './openapi/openapi-source.js';
import { pagesFolder } from './pages/built-page.js';

export interface ApiOptions {
  /** TCP port; 0 takes any free one. */
  readonly port: number;
  readonly host: string;
  /** Folder of the built pages; where the build puts them unless told otherwise. */
  readonly pages?: string | undefined;
  /** What it bears of a client; the usual unless told otherwise. */
  readonly limits?: ServerLimits | undefined;
  /** Addresses, or ranges as CIDR, of proxies whose X-Forwarded-… headers are believed; none unless told. */
  readonly proxies?: readonly string[];
}

export interface RunningApi {
  readonly app: NestFastifyApplication;
  /** Where it listens, without a trailing slash. */
  readonly url: string;
  /** Takes no more requests and waits for those that are being answered. */
  close(): Promise<void>;
}

/**
 * Starts the HTTP face.
 * @throws what listening throws, such as EADDRINUSE where the port is taken
 */
export async function createApi(
  deps: ApiDeps,
  { port, host, pages = pagesFolder(), limits = SERVER_LIMITS, proxies = [] }: ApiOptions,
): Promise<RunningApi> {
  const answers = new OpenAnswers();
  const countUnreadable = (status: number): void => {
    app.get(ApiMetrics).countRequest({ method: 'none', route: 'none', status, seconds: 0 });
  };
  const adapter = new FastifyAdapter({
    ...serverOptions(limits),
    trustProxy: [...proxies],
    genReqId: requestIdOf,
    forceCloseConnections: 'idle',
    // A request that comes over an open connection while we close is answered like any other; closing waits for it.
    return503OnClosing: false,
    frameworkErrors: (_error: Error, _request: FastifyRequest, reply: FastifyReply) => {
      // No hook has seen the request.
      void reply.headers(safeHeaders(reply.request.id, deps.secureCookies));
      sendProblem(reply, problemDocument('bad-request', 'The address is malformed, or a part of it is too long.'));
    },
    clientErrorHandler: unreadableConnection(answers, countUnreadable),
  });
  // Bodies are read by parsers of our own, and what goes wrong is thrown rather than printed.
  const settings = Object.assign(new NestApplicationContextOptions(), {
    bodyParser: false,
    logger: false as const,
    abortOnError: false,
  });
  const app = await NestFactory.create<NestFastifyApplication>(
    ApiModule.register(deps, pages, limits.refusals),
    adapter,
    settings,
  );
  const metrics = app.get(ApiMetrics);
  const instance = app.getHttpAdapter().getInstance();
  const routes = new RouteMap();
  routes.watch(instance);
  answers.watch(instance);
  useRoutePatterns(instance);
  useRequestTraces(instance, deps.tracer);
  useSafeHeaders(instance, deps.secureCookies);
  useRequestLog(instance, deps.log, (facts, problemCode) => {
    metrics.countRequest(facts, problemCode);
  });
  recordAccess(instance, app.get(AccessRecorder), deps.clock);
  useRequestLimits(instance, answers, limits);
  letGoWhenClosing(instance);
  answerUnreadable(instance, countUnreadable);
  instance.server.maxConnections = limits.connections;
  // Counted by useRequestLimits: above a number of its own Node leaves headers out.
  instance.server.maxHeadersCount = 0;
  // Awaited, so that cookies are read before anyone asks for them.
  await app.register(fastifyCookie);
  authenticateRequests(instance, {
    ...{ keys: app.get(KeyRing), sessions: app.get(SessionDesk), refusals: app.get(RefusalLimits) },
  });
  useBodyParsers(instance, limits);
  app.useGlobalPipes(new ShapePipe());
  app.useGlobalFilters(new ProblemFilter(routes, deps.log));
  app.get(OpenApiSource).set(openApiDocument(app));
  await app.listen(port, host);
  return { app, url: await app.getUrl(), close: () => app.close() };
}

/** The limits that Node and Fastify see to themselves. */
function serverOptions(limits: ServerLimits) {
  return {
    http: {
      headersTimeout: limits.headersMs,
      requestTimeout: limits.requestMs,
      connectionsCheckingInterval: limits.lookEveryMs,
      maxHeaderSize: limits.headerBytes,
      requireHostHeader: false,
    },
    requestTimeout: limits.requestMs,
    connectionTimeout: limits.idleMs,
    keepAliveTimeout: limits.keepAliveMs,
    bodyLimit: JSON_BODY_BYTES,
    routerOptions: { maxParamLength: limits.name },
    // No bound on requests over one connection: each has its own, and Node would answer the next one with an empty 503.
    maxRequestsPerSocket: 0,
  };
}
