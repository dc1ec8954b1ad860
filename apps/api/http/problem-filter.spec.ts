import { HttpException } from '@nestjs/common';
import { ExecutionContextHost } from '@nestjs/core/helpers/execution-context-host.js';
import { fastify, FastifyInstance } from 'fastify';
import { Log } from '../../../libs/ledger/ports/log.js';
import { ProblemError } from './problem.js';
import { ProblemFilter } from './problem-filter.js';
import { RouteMap } from './route-map.js';

async function answerTo(error: unknown, url = '/thing') {
  const lines: string[] = [];
  const write = (message: string, details?: object): void => void lines.push(`${message} ${JSON.stringify(details)}`);
  const log: Log = { info: write, warn: write, error: write };
  const app: FastifyInstance = fastify();
  const routes = new RouteMap();
  routes.watch(app);
  const filter = new ProblemFilter(routes, log);
  app.setErrorHandler((thrown, request, reply) => {
    filter.catch(thrown, new ExecutionContextHost([request, reply]));
  });
  app.setNotFoundHandler((request, reply) => {
    filter.catch(new HttpException('not found', 404), new ExecutionContextHost([request, reply]));
  });
  app.get('/thing', () => Promise.reject(error instanceof Error ? error : new Error(String(error))));
  app.put('/things/:name/parts', () => 'done');
  const { statusCode, headers, body } = await app.inject({ method: 'GET', url });
  await app.close();
  return { statusCode, headers, body: JSON.parse(body) as Record<string, unknown>, text: body, lines };
}

describe('ProblemFilter', () => {
  it('answers with the problem that was thrown, its fields and its headers', async () => {
    const errors = [{ pointer: '/a', detail: 'is wrong' }];
    const thrown = new ProblemError('invalid-body', 'Send a.', { errors, headers: { 'retry-after': '1' } });
    const { statusCode, headers, body } = await answerTo(thrown);
    expect(statusCode).toBe(422);
    expect(headers).toMatchObject({ 'content-type': 'application/problem+json; charset=utf-8', 'retry-after': '1' });
    expect(body).toMatchObject({ type: 'urn:heatbook:problem:invalid-body', status: 422, detail: 'Send a.', errors });
  });

  it('tells the caller nothing of what broke, and the operator everything', async () => {
    const { body, text, lines } = await answerTo(new Error('relation "secret_table" does not exist'));
    expect(body).toMatchObject({ type: 'urn:heatbook:problem:internal', status: 500 });
    expect(text).not.toContain('secret_table');
    expect(lines.join()).toContain('secret_table');
    const [, requestId] = /request:(.*)$/.exec(String(body['instance'])) ?? [];
    expect(lines.join()).toContain(`"requestId":"${requestId ?? 'none'}"`);
  });

  it.each(['ECONNREFUSED', '57P03', '53300', '53100'])(
    'says when to come again where the database answers %s',
    async (code) => {
      const { body, headers } = await answerTo(
        new Error('outer', { cause: Object.assign(new Error('away'), { code }) }),
      );
      expect(body).toMatchObject({ status: 503 });
      expect(headers['retry-after']).toBe('2');
    },
  );

  it('says when to come again where a connection to the database ended under the query', async () => {
    const { body, headers } = await answerTo(new Error('Connection terminated unexpectedly'));
    expect([body['status'], headers['retry-after']]).toEqual([503, '2']);
  });

  it('names the methods of an address that takes others', async () => {
    const wrong = await answerTo(undefined, '/things/a.b/parts?x=1');
    expect(wrong).toMatchObject({ statusCode: 405, headers: { allow: 'PUT' } });
    expect((await answerTo(undefined, '/things/parts')).statusCode).toBe(404);
  });

  it.each([413, 415, 400, 414, 418])('turns what the framework says with %i into a problem', async (status) => {
    const { body, statusCode } = await answerTo(new HttpException('as it is', status));
    expect(body['type']).toMatch(/^urn:heatbook:problem:/);
    expect(statusCode).toBe(status === 414 || status === 418 ? 400 : status);
  });
});
