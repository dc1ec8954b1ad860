import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';

/** A line to a server of loopback that can be made to lose, for a while, everything that goes to the server. */
export interface DeafLine {
  readonly port: number;
  isDeaf: boolean;
  close(): Promise<void>;
}

export async function deafLine(to: number): Promise<DeafLine> {
  const ends = new Set<Socket>();
  const keep = (socket: Socket): Socket => {
    ends.add(socket);
    socket.on('error', () => undefined);
    return socket.once('close', () => ends.delete(socket));
  };
  const server = createServer((client) => {
    const onward = keep(connect(to, '127.0.0.1'));
    keep(client).on('data', (bytes) => {
      if (!line.isDeaf) onward.write(bytes);
    });
    onward.pipe(client);
    client.once('close', () => onward.destroy());
    onward.once('close', () => client.destroy());
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has an address with a port');
  const line: DeafLine = {
    ...{ port: address.port, isDeaf: false },
    close: async () => {
      server.close();
      for (const socket of ends) socket.destroy();
      await once(server, 'close');
    },
  };
  return line;
}
