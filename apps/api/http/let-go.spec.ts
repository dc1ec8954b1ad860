import { once } from 'node:events';
import type { ServerResponse } from 'node:http';
import { fastify } from 'fastify';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { openSocket } from '../../../test/support/bare-connection.js';
import { ADMIN_KEY, startApi } from '../spec-support/start-api.js';
import { letGoWhenClosing } from './let-go.js';

const HEAD = `Host: a\r\nAuthorization: Bearer ${ADMIN_KEY}\r\n`;

describe('an api that closes', () => {
  it('answers what is being asked, and then lets go of the connection', async () => {
    const api = await startApi();
    const socket = openSocket(api.url);
    let text = '';
    socket.on('data', (chunk: string) => (text += chunk));
    socket.write(
      `POST /v1/holds HTTP/1.1\r\n${HEAD}Content-Type: application/json\r\nContent-Length: 2\r\nExpect: 100-continue\r\n\r\n{`,
    );
    await once(socket, 'data');
    const closed = api.close();
    socket.write('}');
    // Else only after 75 s, which is longer than this test may last.
    await Promise.all([closed, once(socket, 'end')]);
    expect(text).toMatch(/HTTP\/1\.1 422 [^]*connection: close/i);
  });

  it('lets go of a connection whose answer had begun before', async () => {
    const app = fastify({ forceCloseConnections: 'idle', keepAliveTimeout: 75_000 });
    letGoWhenClosing(app);
    const begun = new Promise<ServerResponse>((resolve) => {
      app.get('/', (_request, reply) => {
        reply.hijack();
        reply.raw.write('first half');
        resolve(reply.raw);
      });
    });
    const socket = openSocket(await app.listen());
    socket.write(`GET / HTTP/1.1\r\n${HEAD}\r\n`);
    await once(socket, 'data');
    const closed = app.close();
    const answer = await begun;
    await until(() => !app.server.listening, 5_000);
    answer.end('second half');
    await Promise.all([closed, once(socket, 'end')]);
  });
});
