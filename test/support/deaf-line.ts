import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';

/** A line to a server of loopback that can fail in several ways. */
export interface DeafLine {
  readonly port: number;
  /** Loses, while it is set, everything that goes to the server. */
  isDeaf: boolean;
  /** Takes no connections while it is set: they end at once. */
  isShut: boolean;
  /** Connections that were not taken so far. */
  readonly refusals: number;
  /** Breaks the connections that there are. */
  cut(): void;
  close(): Promise<void>;
}

export async function deafLine(to: number): Promise<DeafLine> {
  const ends = new Set<Socket>();
  let refusals = 0;
  const keep = (socket: Socket): Socket => {
    ends.add(socket);
    socket.on('error', () => undefined);
    return socket.once('close', () => ends.delete(socket));
  };
  const server = createServer((client) => {
    keep(client);
    if (line.isShut) {
      refusals += 1;
      client.destroy();
      return;
    }
    const onward = keep(connect(to, '127.0.0.1'));
    client.on('data', (bytes) => {
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
    ...{ port: address.port, isDeaf: false, isShut: false },
    get refusals() {
      return refusals;
    },
    cut: () => {
      for (const socket of ends) socket.destroy();
    },
    close: async () => {
      server.close();
      line.cut();
      await once(server, 'close');
    },
  };
  return line;
}
