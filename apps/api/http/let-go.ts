import type { FastifyInstance } from 'fastify';

const LOOK_EVERY_MS = 200;

/**
 * Lets go of every connection once the server closes: with its answer where one is under way, and else as soon as nothing
 * is. Without it a connection that was busy at the beginning of the close holds that up until its client has been silent for
 * as long as the server bears, longer than what stops services mostly grants them.
 */
export function letGoWhenClosing(instance: FastifyInstance): void {
  let isClosing = false;
  instance.addHook('onSend', (_request, reply, _payload, done) => {
    if (isClosing) reply.header('connection', 'close');
    done();
  });
  instance.addHook('preClose', (done) => {
    isClosing = true;
    // Streams sent their headers before.
    const looking = setInterval(() => {
      instance.server.closeIdleConnections();
    }, LOOK_EVERY_MS);
    instance.server.once('close', () => {
      clearInterval(looking);
    });
    done();
  });
}
