import { AddressInfo, connect, createServer, Server, Socket } from 'node:net';

/** Something that is done once, when what a client sends through the wire has come to a certain point. */
export interface WireTrap {
  /** What it must have sent before on the same connection, if anything. */
  readonly after?: string;
  readonly text: string;
  /** The bytes with the text are not sent on; they are, and no answer comes back; or the answer has been handed over. */
  readonly when: 'held' | 'passed' | 'answered';
  readonly spring: () => void;
}

interface Wire {
  readonly client: Socket;
  readonly server: Socket;
  /** The end of what was sent, since a text may come in two pieces. */
  tail: string;
  sawFirst: boolean;
  isSprung: boolean;
  awaitsAnswer: WireTrap | undefined;
}

const LONGEST_TEXT = 80;

/** A wire between two processes on loopback that can be cut, go silent, be slow, and notice what is said on it. */
export class WireProxy {
  readonly #server: Server;
  readonly #wires = new Set<Wire>();
  #state: 'open' | 'cut' | 'silent' = 'open';
  #delayMs = 0;
  #trap: WireTrap | undefined;

  private constructor(private readonly targetPort: number) {
    this.#server = createServer({ allowHalfOpen: false }, (client) => {
      this.#connect(client);
    });
  }

  /** Listens on a free port for what goes to `targetPort`. */
  static async open(targetPort: number): Promise<WireProxy> {
    const proxy = new WireProxy(targetPort);
    await new Promise<void>((resolve, reject) => {
      proxy.#server.once('error', reject);
      proxy.#server.listen(0, '127.0.0.1', resolve);
    });
    return proxy;
  }

  get port(): number {
    return (this.#server.address() as AddressInfo).port;
  }

  /** Breaks all connections and takes no more. */
  cut(): void {
    this.#state = 'cut';
    this.#breakAll();
  }

  /** Sends nothing on any more, and does not say so: as after the other side has lost its power. */
  silence(): void {
    this.#state = 'silent';
  }

  /** Holds each piece back for so long. */
  slow(delayMs: number): void {
    this.#delayMs = delayMs;
  }

  /** Is a good wire again. What was silent is broken, as by a server that knows nothing of it. */
  mend(): void {
    if (this.#state === 'silent') this.#breakAll();
    this.#state = 'open';
    this.#delayMs = 0;
    this.#trap = undefined;
  }

  /** Replaces a trap that has not sprung. */
  set(trap: WireTrap): void {
    this.#trap = trap;
  }

  async close(): Promise<void> {
    this.cut();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #breakAll(): void {
    for (const { client, server } of this.#wires) {
      client.destroy();
      server.destroy();
    }
    this.#wires.clear();
  }

  #connect(client: Socket): void {
    if (this.#state === 'cut') {
      client.destroy();
      return;
    }
    const server = connect(this.targetPort, '127.0.0.1');
    const wire: Wire = { client, server, tail: '', sawFirst: false, isSprung: false, awaitsAnswer: undefined };
    this.#wires.add(wire);
    for (const [one, other] of [
      [client, server],
      [server, client],
    ] as const) {
      one.setNoDelay(true);
      // Either end may break at any time, which is what this is for.
      one.on('error', () => one.destroy());
      one.on('close', () => {
        this.#wires.delete(wire);
        if (this.#state !== 'silent') other.destroy();
      });
    }
    client.on('data', (piece) => {
      this.#later(() => {
        this.#fromClient(wire, piece);
      });
    });
    server.on('data', (piece) => {
      this.#later(() => {
        this.#fromServer(wire, piece);
      });
    });
  }

  /** Pieces keep their order, since timers of the same delay do. */
  #later(send: () => void): void {
    if (this.#delayMs > 0) setTimeout(send, this.#delayMs);
    else send();
  }

  #fromClient(wire: Wire, piece: Buffer): void {
    if (this.#state === 'silent' || wire.isSprung) return;
    const trap = this.#trap === undefined ? undefined : this.#sees(wire, piece, this.#trap);
    if (trap?.when === 'held') {
      this.#springs(wire, trap);
      return;
    }
    wire.server.write(piece);
    if (trap?.when === 'passed') this.#springs(wire, trap);
    if (trap?.when === 'answered') {
      this.#trap = undefined;
      wire.awaitsAnswer = trap;
    }
  }

  #fromServer(wire: Wire, piece: Buffer): void {
    if (this.#state === 'silent' || wire.isSprung) return;
    wire.client.write(piece);
    const trap = wire.awaitsAnswer;
    if (trap === undefined) return;
    wire.awaitsAnswer = undefined;
    this.#springs(wire, trap);
  }

  #sees(wire: Wire, piece: Buffer, trap: WireTrap): WireTrap | undefined {
    const said = wire.tail + piece.toString('latin1');
    wire.tail = said.slice(-LONGEST_TEXT);
    let from = 0;
    if (trap.after !== undefined && !wire.sawFirst) {
      const first = said.indexOf(trap.after);
      if (first < 0) return undefined;
      wire.sawFirst = true;
      from = first;
    }
    return said.includes(trap.text, from) ? trap : undefined;
  }

  #springs(wire: Wire, trap: WireTrap): void {
    this.#trap = undefined;
    wire.isSprung = true;
    trap.spring();
  }
}
