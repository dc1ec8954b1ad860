import fc from 'fast-check';
import { refKey } from '../../domain/events/event-order.js';
import { Acceptance, IncomingEvent } from '../ports/book-store.js';
import { InboxBatcher, InboxFull } from './inbox-batcher.js';
import { ListedInbox } from './spec-support/listed-inbox.js';

function event(id: string, content = 'same'): IncomingEvent {
  const contentHash = content;
  return { source: '/stations/s', id, type: 't', subject: 'A/1', contentHash, payload: '{}' };
}

function events(from: number, to: number): IncomingEvent[] {
  return Array.from({ length: to - from }, (_, index) => event(String(from + index)));
}

/** An inbox whose calls are answered one by one, by hand. */
function gatedInbox() {
  const inbox = new ListedInbox();
  const gates: { open: () => void; fail: (error: Error) => void }[] = [];
  inbox.gate = () =>
    new Promise((open, fail) => {
      gates.push({ open, fail });
    });
  /** Lets everything that has been resolved so far run on. */
  const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
  return { inbox, gates, settle };
}

describe('grouping concurrent requests into inserts', () => {
  it('puts what one turn of the event loop brings into one insert', async () => {
    const inbox = new ListedInbox();
    const batcher = new InboxBatcher(inbox);
    const ask = (from: number, to: number) => Promise.all(events(from, to).map((one) => batcher.accept([one])));
    expect(await ask(0, 30)).toEqual(Array<Acceptance[]>(30).fill(['accepted']));
    expect(await ask(30, 50)).toEqual(Array<Acceptance[]>(20).fill(['accepted']));
    expect(inbox.calls.map(({ length }) => length)).toEqual([30, 20]);
  });

  it('keeps two inserts in flight and puts what comes meanwhile into the next one', async () => {
    const { inbox, gates, settle } = gatedInbox();
    const batcher = new InboxBatcher(inbox);
    const answers: Promise<readonly Acceptance[]>[] = [];
    for (const turn of [events(0, 10), events(10, 15), events(15, 200), events(200, 500)]) {
      answers.push(...turn.map((one) => batcher.accept([one])));
      await settle();
    }
    expect(inbox.calls.map(({ length }) => length)).toEqual([10, 5]);
    gates[0]?.open();
    await settle();
    await settle();
    expect(inbox.calls.map(({ length }) => length)).toEqual([10, 5, 485]);
    gates[1]?.open();
    gates[2]?.open();
    expect(await Promise.all(answers)).toEqual(Array<Acceptance[]>(500).fill(['accepted']));
    expect(inbox.mostInFlight).toBe(2);
  });

  it('splits a large request, and never puts more into an insert than it may', async () => {
    const inbox = new ListedInbox();
    const batcher = new InboxBatcher(inbox);
    const answers = await Promise.all([batcher.accept(events(0, 2500)), batcher.accept(events(2000, 3500))]);
    expect(answers.map(({ length }) => length)).toEqual([2500, 1500]);
    expect(answers[1].slice(0, 500)).toEqual(Array(500).fill('duplicate'));
    expect(Math.max(...inbox.calls.map(({ length }) => length))).toBeLessThanOrEqual(1000);
    expect(inbox.stored.size).toBe(3500);
  });

  it('fails only the requests that were in the insert that failed', async () => {
    const { inbox, gates, settle } = gatedInbox();
    const batcher = new InboxBatcher(inbox, { insertsInFlight: 1, eventsPerInsert: 2, eventsWaiting: 100 });
    const outcome = (request: Promise<readonly Acceptance[]>) =>
      request.then(String, (error: unknown) => String(error));
    const requests = ['a', 'b', 'c', 'd', 'e', 'f'].map((id) => outcome(batcher.accept([event(id)])));
    await settle();
    gates[0]?.open();
    await settle();
    await settle();
    gates[1]?.fail(new Error('insert failed'));
    await settle();
    await settle();
    gates[2]?.open();
    expect(await Promise.all(requests)).toEqual([
      'accepted',
      'accepted',
      'Error: insert failed',
      'Error: insert failed',
      'accepted',
      'accepted',
    ]);
  });

  it('refuses what would wait beyond its bound, and takes it once there is room', async () => {
    const { inbox, gates, settle } = gatedInbox();
    const batcher = new InboxBatcher(inbox, { insertsInFlight: 1, eventsPerInsert: 10, eventsWaiting: 10 });
    const first = batcher.accept([event('a')]);
    await settle();
    const second = batcher.accept(events(0, 10));
    await expect(batcher.accept([event('b')])).rejects.toThrow(InboxFull);
    gates[0]?.open();
    await first;
    await settle();
    await settle();
    const third = batcher.accept([event('b')]);
    gates[1]?.open();
    await second;
    await settle();
    await settle();
    gates[2]?.open();
    expect(await third).toEqual(['accepted']);
    expect(inbox.stored.has(refKey(event('b')))).toBe(true);
  });

  it('asks again for other content where the first of an id is not what is stored', async () => {
    const inbox = new ListedInbox();
    await inbox.accept([event('a', 'stored')]);
    const batcher = new InboxBatcher(inbox);
    const asked = [event('a', 'x'), event('a', 'x'), event('a', 'y'), event('a', 'stored'), event('a', 'y')];
    expect(await batcher.accept(asked)).toEqual(['conflict', 'conflict', 'conflict', 'duplicate', 'conflict']);
  });

  it('answers the very same object twice as accepted and duplicate', async () => {
    const one = event('a');
    expect(await new InboxBatcher(new ListedInbox()).accept([one, one])).toEqual(['accepted', 'duplicate']);
  });

  it('answers as the inbox alone would, one event after the other', async () => {
    const one = fc
      .tuple(fc.constantFrom('a', 'b', 'c'), fc.constantFrom('x', 'y', 'z'))
      .map(([id, text]) => event(id, text));
    const requests = fc.array(fc.array(one, { maxLength: 6 }), { maxLength: 8 });
    await fc.assert(
      fc.asyncProperty(requests, fc.array(one, { maxLength: 3 }), async (asked, known) => {
        const [alone, behind] = [new ListedInbox(), new ListedInbox()];
        for (const inbox of [alone, behind]) await inbox.accept(known);
        const batcher = new InboxBatcher(behind, { insertsInFlight: 1, eventsPerInsert: 6, eventsWaiting: 100 });
        const expected: Acceptance[] = [];
        for (const each of asked.flat()) expected.push(...(await alone.accept([each])));
        expect((await Promise.all(asked.map((request) => batcher.accept(request)))).flat()).toEqual(expected);
        for (const call of behind.calls.slice(1)) expect(new Set(call.map(refKey)).size).toBe(call.length);
      }),
    );
  });
});
