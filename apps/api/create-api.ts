import 'reflect-metadata';
import fastifyCookie from '@fastify/cookie';
import { NestApplicationContextOptions } from '@nestjs/common/interfaces/nest-application-context-options.interface.js';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { AccessRecorder } from './access/access-recorder.js';
import { recordAccess } from './access/record-access.js';
import { ApiDeps } from './api-deps.js';
import { ApiModule } from './api-module.js';
import { JSON_BODY_BYTES, useBodyParsers } from './http/body-parsers.js';
import { problemDocument } from './http/problem.js';
import { ProblemFilter, sendProblem } from './http/problem-filter.js';
import { requestIdOf, useRequestLog, useSafeHeaders } from './http/request-log.js';
import { RouteMap } from './http/route-map.js';
import { useRoutePatterns } from './http/route-pattern.js';
import { ShapePipe } from './http/shape-pipe.js';
import { authenticateRequests } from './identity/authenticate.js';
import { KeyRing } from './identity/key-ring.js';
import { SessionDesk } from './identity/session-desk.js';
import { ApiMetrics } from './metrics/api-metrics.js';
import { openApiDocument } from './openapi/openapi-document.js';
import { OpenApiSource } from './openapi/openapi-source.js';
import { pagesFolder } from './pages/built-page.js';

/** The longest name in an address: a device named after its place, made of three names of 64 and two colons. */
const LONGEST_NAME = 194;

export interface ApiOptions {
  /** TCP port; 0 takes any free one. */
  readonly port: number;
  readonly host: string;
  /** Folder of the built pages; where the build puts them unless told otherwise. */
  readonly pages?: string | undefined;
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
export async function createApi(deps: ApiDeps, { port, host, pages = pagesFolder() }: ApiOptions): Promise<RunningApi> {
  const adapter = new FastifyAdapter({
    bodyLimit: JSON_BODY_BYTES,
    genReqId: requestIdOf,
    routerOptions: { maxParamLength: LONGEST_NAME },
    forceCloseConnections: 'idle',
    // A request that comes over an open connection while we close is answered like any other; closing waits for it.
    return503OnClosing: false,
    frameworkErrors: (_error: Error, _request: FastifyRequest, reply: FastifyReply) => {
      sendProblem(reply, problemDocument('bad-request', 'The address is malformed, or a part of it is too long.'));
    },
  });
  // Bodies are read by parsers of our own, and what goes wrong is thrown rather than printed.
  const settings = Object.assign(new NestApplicationContextOptions(), {
    bodyParser: false,
    logger: false as const,
    abortOnError: false,
  });
  const app = await NestFactory.create<NestFastifyApplication>(ApiModule.register(deps, pages), adapter, settings);
  const metrics = app.get(ApiMetrics);
  const instance = app.getHttpAdapter().getInstance();
  const routes = new RouteMap();
  routes.watch(instance);
  useRoutePatterns(instance);
  useSafeHeaders(instance);
  useRequestLog(instance, deps.log, (facts) => {
    metrics.countRequest(facts);
  });
  recordAccess(instance, app.get(AccessRecorder), deps.clock);
  // Awaited, so that cookies are read before anyone asks for them.
  await app.register(fastifyCookie);
  authenticateRequests(instance, app.get(KeyRing), app.get(SessionDesk));
  useBodyParsers(instance);
  app.useGlobalPipes(new ShapePipe());
  app.useGlobalFilters(new ProblemFilter(routes, deps.log));
  app.get(OpenApiSource).set(openApiDocument(app));
  await app.listen(port, host);
  return { app, url: await app.getUrl(), close: () => app.close() };
}
