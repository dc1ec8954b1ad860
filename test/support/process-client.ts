import { LOOK_SETTINGS } from '../../apps/house/metrics/timed-look.js';
import { AcceptedEvents } from '../../libs/ledger/intake/accept-events.js';
import { until } from '../../libs/postgres/embedded/processes.js';

export interface PostAnswer {
  readonly status: number;
  readonly body: AcceptedEvents;
  /** From the request to the whole answer. */
  readonly elapsedMs: number;
}

/** The connection broke or timed out, so that nobody knows what became of the request; or it was to be sent later. */
export class NoAnswer extends Error {
  override readonly name = 'NoAnswer';
}

const ANSWER_MS = 15_000;

/** What a station or a reader has of the service: its address and a key. */
export class BookClient {
  constructor(
    readonly url: string,
    private readonly key: string,
  ) {}

  /** Posts a batch. @throws NoAnswer */
  async post(events: readonly object[]): Promise<PostAnswer> {
    const began = performance.now();
    const answer = await this.#fetch('/v1/events', {
      method: 'POST',
      headers: { 'content-type': 'application/cloudevents-batch+json' },
      body: JSON.stringify(events),
    });
    if (answer.status === 503 && answer.headers.has('retry-after')) throw new NoAnswer('it says to come back later');
    const body = (await answer.json()) as AcceptedEvents;
    return { status: answer.status, body, elapsedMs: performance.now() - began };
  }

  /** @throws NoAnswer, or Error where the answer is not 200 */
  async get(path: string): Promise<unknown> {
    const answer = await this.#fetch(path, {});
    if (answer.status !== 200) throw new Error(`GET ${path}: ${answer.status} ${await answer.text()}`);
    return answer.json();
  }

  /** Every item of a list, page by page. */
  async list(path: string): Promise<unknown[]> {
    const items: unknown[] = [];
    for (let cursor = ''; ;) {
      const joint = path.includes('?') ? '&' : '?';
      const page = (await this.get(`${path}${joint}limit=200${cursor}`)) as {
        items: unknown[];
        nextCursor: string | null;
      };
      items.push(...page.items);
      if (page.nextCursor === null) return items;
      cursor = `&cursor=${encodeURIComponent(page.nextCursor)}`;
    }
  }

  /** Events that wait to be folded, by the service's own figures of some seconds ago. */
  async pending(): Promise<number> {
    const answer = await this.#fetch('/metrics', {});
    const count = /^heatbook_intake_pending (\d+)$/m.exec(await answer.text())?.[1];
    if (count === undefined) throw new Error('/metrics does not tell heatbook_intake_pending');
    return Number(count);
  }

  /** @throws Error where events still wait to be folded when the time is up */
  async settled(timeoutMs: number): Promise<void> {
    const began = performance.now();
    // What /metrics tells may be as old as it is kept.
    const isNone = async (): Promise<boolean> =>
      (await this.pending()) === 0 && performance.now() - began > LOOK_SETTINGS.keepMs;
    if (await until(isNone, timeoutMs)) return;
    throw new Error(`${await this.pending()} events still wait after ${timeoutMs} ms`);
  }

  async isReady(): Promise<boolean> {
    return this.#fetch('/health/ready', {}).then(
      ({ status }) => status === 200,
      () => false,
    );
  }

  async #fetch(path: string, init: RequestInit): Promise<Response> {
    const headers = new Headers(init.headers);
    headers.set('authorization', `Bearer ${this.key}`);
    try {
      const answer = await fetch(`${this.url}${path}`, { ...init, headers, signal: AbortSignal.timeout(ANSWER_MS) });
      // The body may still fail to come, so it is read here.
      const { status, headers: given } = answer;
      return new Response(await answer.text(), { status, headers: given });
    } catch (cause) {
      throw new NoAnswer(`no answer for ${path}: ${String(cause)}`, { cause });
    }
  }
}
