import { createServer, IncomingMessage } from 'node:http';
import { AddressInfo } from 'node:net';

interface Told {
  readonly id: string;
  readonly [member: string]: unknown;
}

/** What was asked, as it came. */
export interface Asked {
  readonly method: string;
  readonly path: string;
  readonly headers: IncomingMessage['headers'];
  readonly body: unknown;
}

/** What the next request is to be answered with; `cut` breaks the connection after the work was done. */
export type Reply =
  | { readonly status: number; readonly headers?: Readonly<Record<string, string>>; readonly body?: unknown }
  | 'cut'
  | 'silence';

/** A server that answers for events as the contract says, unless it is told otherwise. What Heatbook itself does is tried elsewhere. */
export class StandIn {
  readonly asked: Asked[] = [];
  /** Ids that were accepted, in their order. */
  readonly accepted: string[] = [];
  /** Answers to be given in place of its own, the first to the first request. */
  readonly replies: Reply[] = [];
  /** Problems of events that are to be turned away, by id. */
  readonly rejects = new Map<string, object>();
  /** Called for every request in place of `replies`, where it answers. */
  decide: (asked: Asked) => Reply | undefined = () => undefined;
  #url = '';
  readonly #server = createServer((request, response) => {
    let text = '';
    request.setEncoding('utf8').on('data', (more: string) => (text += more));
    request.on('end', () => {
      const { method = '', url: path = '', headers } = request;
      const asked = { method, path, headers, body: text === '' ? undefined : (JSON.parse(text) as unknown) };
      this.asked.push(asked);
      const reply = this.decide(asked) ?? this.replies.shift() ?? this.#judge(asked.body);
      if (reply === 'silence') return;
      if (reply === 'cut') {
        this.#judge(asked.body);
        request.socket.destroy();
        return;
      }
      response.writeHead(reply.status, { 'content-type': 'application/json', ...reply.headers });
      response.end(reply.body === undefined ? '' : JSON.stringify(reply.body));
    });
  });

  static async start(): Promise<StandIn> {
    const standIn = new StandIn();
    await standIn.listen(0);
    return standIn;
  }

  get url(): string {
    return this.#url;
  }

  async listen(port: number): Promise<void> {
    await new Promise<void>((resolve) => this.#server.listen(port, '127.0.0.1', resolve));
    this.#url = `http://127.0.0.1:${String((this.#server.address() as AddressInfo).port)}`;
  }

  async close(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #judge(body: unknown): Exclude<Reply, string> {
    const items = (body as Told[]).map(({ id }) => {
      const problem = this.rejects.get(id);
      if (problem !== undefined) return { id, state: 'rejected', problem };
      if (this.accepted.includes(id)) return { id, state: 'duplicate' };
      this.accepted.push(id);
      return { id, state: 'accepted' };
    });
    return { status: 202, body: { items } };
  }
}

/** A problem as Heatbook words it. */
export function problem(code: string, status: number, detail = 'as it was told to answer'): object {
  return { type: `urn:heatbook:problem:${code}`, title: code, status, detail, errors: [] };
}
