import { createServer } from 'node:net';

/** The port that was asked for cannot be listened on. */
export class PortTaken extends Error {
  override readonly name = 'PortTaken';
}

/**
 * Finds out before anything else is started whether a port can be had; 0 always can.
 * @throws PortTaken in one line that says what to do.
 */
export function assertPortFree(host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => {
      const why = error.code === 'EADDRINUSE' ? 'something else listens there' : error.message;
      reject(new PortTaken(`Port ${String(port)} on ${host} cannot be had: ${why}. Set PORT to another one.`));
    });
    probe.listen({ host, port }, () => {
      probe.close(() => {
        resolve();
      });
    });
  });
}
