import type { ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import type { FastifyInstance } from 'fastify';

/** Which connections wait for answers. Holds none that is closed, nor a connection that is gone. */
export class OpenAnswers {
  /** In the order in which they were asked for. */
  private readonly open = new WeakMap<Duplex, Set<ServerResponse>>();

  /** Must be called before hooks are added that ask. */
  watch(instance: FastifyInstance): void {
    instance.addHook('onRequest', ({ raw: { socket } }, { raw }, done) => {
      const open = this.open.get(socket) ?? new Set();
      this.open.set(socket, open.add(raw));
      // Closed once, however it ends. One that waits behind others as its connection breaks never is, and goes with the connection.
      raw.once('close', () => open.delete(raw));
      done();
    });
  }

  countOf(socket: Duplex): number {
    return this.open.get(socket)?.size ?? 0;
  }

  /** The last answer that a connection waits for. */
  lastOf(socket: Duplex): ServerResponse | undefined {
    return [...(this.open.get(socket) ?? [])].at(-1);
  }
}
