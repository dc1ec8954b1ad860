import { IncomingEvent } from '../ports/book-store.js';
import { BacklogGate } from './backlog-gate.js';
import { ListedInbox } from './spec-support/listed-inbox.js';

/** A gate that lets 1,000 events wait, with its clock and the backlog set by hand. */
class GateBench {
  pending = 0;
  nowMs = 0;
  looks = 0;
  /** Awaited before a look is answered. */
  gate: Promise<void> = Promise.resolve();
  readonly inbox = new ListedInbox();
  readonly #gate = new BacklogGate(this.inbox, {
    mostPending: 1_000,
    elapsedMs: () => this.nowMs,
    reads: {
      backlog: async () => {
        this.looks += 1;
        await this.gate;
        return { pending: this.pending, oldestReceivedAt: null, parked: 0 };
      },
    },
  });
  #sent = 0;

  /** Posts so many and lets the look that it may have begun be answered. @returns how many were accepted */
  async post(count = 1): Promise<number> {
    const events = Array.from({ length: count }, () => event(String((this.#sent += 1))));
    const answers = await this.#gate.accept(events);
    await new Promise((resolve) => setImmediate(resolve));
    return answers.length;
  }

  /** Posts after so many seconds, with so many pending then. */
  later(seconds: number, pending: number, count = 1): Promise<number> {
    this.nowMs += seconds * 1000;
    this.pending = pending;
    return this.post(count);
  }
}

function event(id: string): IncomingEvent {
  return { source: '/stations/s', id, type: 't', subject: 'A/1', contentHash: 'same', payload: '{}' };
}

describe('a backlog that folding does not keep up with', () => {
  let bench: GateBench;

  beforeEach(() => {
    bench = new GateBench();
  });

  it('is counted beside the events, and not for each of them', async () => {
    for (let n = 0; n < 100; n += 1) await bench.post();
    expect(bench.looks).toBe(1);
    await bench.later(1, 0);
    expect(bench.looks).toBe(1);
    await bench.later(1, 0);
    expect(bench.looks).toBe(2);
  });

  it('holds no event up while it is counted', async () => {
    bench.gate = new Promise(() => undefined);
    expect(await bench.post(3)).toBe(3);
  });

  it('is counted less often where that takes long', async () => {
    let answer = (): void => undefined;
    bench.gate = new Promise((resolve) => (answer = resolve));
    await bench.post();
    bench.nowMs += 3_000;
    answer();
    await bench.post();
    await bench.later(50, 0);
    expect(bench.looks).toBe(1);
    await bench.later(7, 0);
    expect(bench.looks).toBe(2);
  });

  it('is taken up to its bound, and turned away beyond, with nothing kept', async () => {
    bench.pending = 1_000;
    await bench.post();
    await bench.post();
    const kept = bench.inbox.stored.size;
    await bench.later(2, 1_001);
    await expect(bench.post()).rejects.toMatchObject({ code: 'backlog-full' });
    expect(bench.inbox.stored.size).toBe(kept + 1);
  });

  it('tells to come back when there will be room at the pace of the last seconds', async () => {
    await bench.later(0, 4_000);
    await expect(bench.post()).rejects.toMatchObject({ retryAfterSeconds: 60 });
    bench.nowMs += 2_000;
    bench.pending = 2_400;
    // One came and 1,600 less wait: 800 a second. It takes two until there are 900.
    await expect(bench.post()).rejects.toMatchObject({ retryAfterSeconds: 2 });
  });

  it('tells to come back in a minute where nothing is folded', async () => {
    await bench.later(0, 50_000);
    await expect(bench.later(2, 50_000)).rejects.toMatchObject({ retryAfterSeconds: 60 });
  });

  it('counts what came in the meantime as folded, too', async () => {
    await bench.later(0, 900, 200);
    // 200 came, and as many as before wait: 100 a second.
    await bench.later(2, 900, 200);
    // 200 came, and 300 more wait: nothing was folded, and half of what was known is kept.
    await bench.later(2, 1_200);
    await expect(bench.post()).rejects.toMatchObject({ retryAfterSeconds: 6 });
  });

  it('is counted before anybody is turned away on an old count', async () => {
    await bench.later(0, 5_000);
    await expect(bench.post()).rejects.toMatchObject({ code: 'backlog-full' });
    expect(await bench.later(60, 10)).toBe(1);
  });

  it('refuses nobody where it cannot be counted', async () => {
    bench.gate = Promise.reject(new Error('the database is away'));
    expect(await bench.post()).toBe(1);
    expect(await bench.later(2, 5_000)).toBe(1);
  });
});
