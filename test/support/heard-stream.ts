/** A message as a listener gets it. */
export interface HeardMessage {
  /** Of this message; null where it has none of its own. */
  readonly id: string | null;
  readonly event: string;
  readonly data: Readonly<Record<string, unknown>>;
}

/** The event stream, as one listener has it open. */
export interface HeardStream {
  readonly status: number;
  readonly headers: Headers;
  /** Everything heard so far. */
  readonly heard: readonly HeardMessage[];
  /** The last id that was given, with or without a message. */
  lastId(): string | null;
  /** Waits until something that was heard passes. @throws Error with all that was heard, where nothing does in time */
  hears(passes: (message: HeardMessage) => boolean): Promise<HeardMessage>;
  /** Settles when the service has ended it. */
  readonly ended: Promise<void>;
  close(): void;
}

const PATIENCE_MS = 15_000;

/** Listens as a browser does: reads blocks of lines, keeps the last id. */
export async function listen(url: string, headers: Readonly<Record<string, string>>): Promise<HeardStream> {
  const off = new AbortController();
  const answer = await fetch(`${url}/v1/stream`, { headers, signal: off.signal });
  const heard: HeardMessage[] = [];
  let lastId: string | null = null;
  const waiting = new Set<() => void>();
  const take = (block: string): void => {
    const fields = new Map(
      block.split('\n').map((line) => [line.split(':', 1)[0] ?? '', line.replace(/^[^:]*: ?/, '')]),
    );
    const [id, event, data] = ['id', 'event', 'data'].map((name) => fields.get(name));
    if (id !== undefined) lastId = id;
    if (event === undefined || data === undefined) return;
    heard.push({ id: id ?? null, event, data: JSON.parse(data) as HeardMessage['data'] });
    for (const look of [...waiting]) look();
  };
  const ended = answer.status === 200 ? readBlocks(answer, take) : Promise.resolve();
  return {
    status: answer.status,
    headers: answer.headers,
    heard,
    lastId: () => lastId,
    hears: (passes) =>
      new Promise((resolve, reject) => {
        const late = setTimeout(() => {
          waiting.delete(look);
          reject(new Error(`not heard; heard was ${JSON.stringify(heard)}`));
        }, PATIENCE_MS);
        const look = (): void => {
          const found = heard.find(passes);
          if (found === undefined) return;
          clearTimeout(late);
          waiting.delete(look);
          resolve(found);
        };
        waiting.add(look);
        look();
      }),
    ended,
    close: () => {
      off.abort();
    },
  };
}

async function readBlocks(answer: Response, take: (block: string) => void): Promise<void> {
  let rest = '';
  const decoder = new TextDecoder();
  try {
    for await (const bytes of answer.body ?? []) {
      const blocks = (rest + decoder.decode(bytes as Uint8Array, { stream: true })).split('\n\n');
      rest = blocks.pop() ?? '';
      for (const block of blocks) take(block);
    }
  } catch (error) {
    // The listener itself has closed it.
    if (!(error instanceof DOMException)) throw error;
  }
}
