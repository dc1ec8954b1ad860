import { once } from 'node:events';
import { createServer, ServerResponse } from 'node:http';
import type { House } from '../house/open-house.js';
import { type Readiness, readinessOf } from '../house/readiness.js';
import { FoldProgress } from './fold-progress.js';

export interface WorkerHealth {
  readonly url: string;
  close(): Promise<void>;
}

/** What is looked at. */
type Watched = Pick<House, 'ready' | 'log'> & {
  readonly figures: Pick<House['figures'], 'text' | 'contentType'>;
  readonly reads: Pick<House['reads'], 'backlog'>;
};

/**
 * Answers `/health/live` and `/health/ready` for whoever watches a worker, as the API does for itself: ready says also
 * whether what is pending is being folded. `/metrics` has its figures. Nothing else is served, and nothing of the book is told.
 * @throws Error where the port is taken
 */
export async function serveHealth(
  house: Watched,
  { host, port }: { readonly host: string; readonly port: number },
): Promise<WorkerHealth> {
  const progress = new FoldProgress(() => performance.now());
  const server = createServer((request, reply) => {
    if (request.url === '/health/live') answer(reply, 200, { ok: true });
    else if (request.url === '/metrics')
      void house.figures
        .text()
        .then((text) => reply.writeHead(200, { 'content-type': house.figures.contentType }).end(text));
    else if (request.url !== '/health/ready') answer(reply, 404, { ok: false });
    else
      void readinessOf(() => look(house, progress), house.log).then((found) => {
        answer(reply, found.ok ? 200 : 503, found);
      });
  });
  server.listen(port, host);
  await once(server, 'listening');
  const address = server.address();
  const shown = typeof address === 'object' && address !== null ? address.port : port;
  return {
    url: `http://${host}:${String(shown)}`,
    close: async () => {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
}

async function look({ ready, reads }: Watched, progress: FoldProgress): Promise<Readiness> {
  const { ok, checks } = await ready();
  const moves = progress.moves(await reads.backlog());
  return { ok: ok && moves, checks: { ...checks, folding: moves ? 'ok' : 'failing' } };
}

function answer(reply: ServerResponse, status: number, body: object): void {
  reply.writeHead(status, { 'content-type': 'application/json; charset=utf-8', 'cache-control': 'no-store' });
  reply.end(JSON.stringify(body));
}
