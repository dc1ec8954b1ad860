import type { ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import type { FastifyInstance } from 'fastify';

interface Waiting {
  count: number;
  /** The last that was asked for. */
  last: ServerResponse;
}

/** Which connections wait for answers, and for how many. */
export class OpenAnswers {
  private readonly waiting = new WeakMap<Duplex, Waiting>();

  /** Must be called before hooks are added that ask. */
  watch(instance: FastifyInstance): void {
    instance.addHook('onRequest', ({ raw: { socket } }, { raw }, done) => {
      const known = this.waiting.get(socket) ?? { count: 0, last: raw };
      known.count += 1;
      known.last = raw;
      this.waiting.set(socket, known);
      // Whatever becomes of the answer, it closes once.
      raw.once('close', () => {
        known.count -= 1;
      });
      done();
    });
  }

  countOf(socket: Duplex): number {
    return this.waiting.get(socket)?.count ?? 0;
  }

  /** The last answer that a connection waits for. */
  lastOf(socket: Duplex): ServerResponse | undefined {
    const known = this.waiting.get(socket);
    return known === undefined || known.last.closed ? undefined : known.last;
  }
}
