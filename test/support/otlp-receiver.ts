import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';

/** A span as it came over the wire, as far as specs look at it. */
export interface SentSpan {
  readonly service: string;
  readonly name: string;
  readonly traceId: string;
  readonly spanId: string;
  readonly parentSpanId?: string;
  readonly links: readonly { readonly traceId: string; readonly spanId: string }[];
}

interface OtlpBody {
  readonly resourceSpans: readonly {
    readonly resource: { readonly attributes: readonly { key: string; value: { stringValue?: string } }[] };
    readonly scopeSpans: readonly { readonly spans: readonly Omit<SentSpan, 'service'>[] }[];
  }[];
}

/** A receiver of traces by OTLP over HTTP in JSON. */
export class OtlpReceiver {
  /** What came so far. */
  readonly spans: SentSpan[] = [];
  /** How often something came, whatever was answered. */
  requests = 0;
  /** What it answers from now on; `silent`: nothing at all. */
  answer: number | 'silent' = 200;
  readonly #waiting: (() => void)[] = [];

  private constructor(
    private readonly server: Server,
    readonly url: string,
  ) {}

  static async listen(): Promise<OtlpReceiver> {
    const server = createServer();
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    const address = server.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const receiver = new OtlpReceiver(server, `http://127.0.0.1:${String(port)}`);
    server.on('request', (request: IncomingMessage, reply: ServerResponse) => {
      receiver.#take(request, reply);
    });
    return receiver;
  }

  /** Resolves with the first span that fits, as soon as it is there. */
  async find(fits: (span: SentSpan) => boolean): Promise<SentSpan> {
    for (;;) {
      const found = this.spans.find(fits);
      if (found !== undefined) return found;
      await this.something();
    }
  }

  /** Resolves when the next request has come. */
  something(): Promise<void> {
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  async close(): Promise<void> {
    this.server.closeAllConnections();
    this.server.close();
    await once(this.server, 'close');
  }

  #take(request: IncomingMessage, reply: ServerResponse): void {
    const parts: Buffer[] = [];
    request.on('data', (part: Buffer) => parts.push(part));
    request.on('end', () => {
      this.requests += 1;
      if (this.answer === 200) this.spans.push(...read(Buffer.concat(parts).toString()));
      if (this.answer !== 'silent') reply.writeHead(this.answer, { 'content-type': 'application/json' }).end('{}');
      for (const resolve of this.#waiting.splice(0)) resolve();
    });
  }
}

function read(body: string): SentSpan[] {
  const { resourceSpans } = JSON.parse(body) as OtlpBody;
  return resourceSpans.flatMap(({ resource, scopeSpans }) => {
    const service = resource.attributes.find(({ key }) => key === 'service.name')?.value.stringValue ?? '';
    return scopeSpans.flatMap(({ spans }) => spans.map((span) => ({ ...span, service })));
  });
}
