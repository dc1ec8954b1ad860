import fc from 'fast-check';
import { refKey } from '../../domain/events/event-order.js';
import { Acceptance, IncomingEvent } from '../ports/book-store.js';
import { BatcherLimits, batcherLimits, InboxBatcher } from './inbox-batcher.js';
import { InboxFull } from './inbox-load.js';
import { ListedInbox } from './spec-support/listed-inbox.js';

function event(id: string, content = 'same', station = 's'): IncomingEvent {
  const contentHash = content;
  return { source: `/stations/${station}`, id, type: 't', subject: 'A/1', contentHash, payload: '{}' };
}

function events(from: number, to: number, station?: string): IncomingEvent[] {
  return Array.from({ length: to - from }, (_, index) => event(String(from + index), undefined, station));
}

/** One insert at a time of so many events; room for a hundred times as many. */
function oneByOne(eventsPerInsert: number, others: Partial<BatcherLimits> = {}): BatcherLimits {
  return { ...batcherLimits(), insertsInFlight: 1, eventsPerInsert, ...others };
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
    const batcher = new InboxBatcher(inbox, oneByOne(2));
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

  describe('that bring more than the database keeps up with', () => {
    const load = (events: number, size = 1e9) => ({ events, size });

    it.each([
      ['events in all', { inAll: load(11) }, 'inbox-full'],
      ['events of one station', { ofOneStation: load(11) }, 'station-full'],
      ['characters in all', { inAll: load(1e9, 22) }, 'inbox-full'],
      ['characters of one station', { ofOneStation: load(1e9, 22) }, 'station-full'],
    ] as const)(
      'refuses what would be beyond its bound of %s, and takes it once there is room',
      async (_, bound, code) => {
        const { inbox, gates, settle } = gatedInbox();
        const batcher = new InboxBatcher(inbox, oneByOne(10, bound));
        const first = batcher.accept([event('a')]);
        await settle();
        const second = batcher.accept(events(0, 10));
        const refused = batcher.accept([event('b')]);
        await expect(refused).rejects.toBeInstanceOf(InboxFull);
        await expect(refused).rejects.toMatchObject({ code, retryAfterSeconds: 1 });
        gates[0]?.open();
        await first;
        const third = batcher.accept([event('b')]);
        await settle();
        gates[1]?.open();
        await second;
        await settle();
        await settle();
        gates[2]?.open();
        expect(await third).toEqual(['accepted']);
        expect(inbox.stored.has(refKey(event('b')))).toBe(true);
      },
    );

    it('takes nothing of a large request that does not fit as a whole', async () => {
      const { inbox, gates, settle } = gatedInbox();
      const batcher = new InboxBatcher(inbox, oneByOne(10, { inAll: load(30) }));
      const first = batcher.accept([event('a')]);
      await settle();
      await expect(batcher.accept(events(0, 30))).rejects.toMatchObject({ code: 'inbox-full' });
      gates[0]?.open();
      await first;
      await settle();
      expect([...inbox.stored.keys()]).toEqual([refKey(event('a'))]);
    });

    it('takes whatever one request brings while nothing waits', async () => {
      const bounds = { inAll: load(1, 1), ofOneStation: load(1, 1) };
      const batcher = new InboxBatcher(new ListedInbox(), oneByOne(10, bounds));
      expect(await batcher.accept(events(0, 25))).toHaveLength(25);
    });

    it('keeps room for the others where one station sends without end', async () => {
      const { inbox, gates, settle } = gatedInbox();
      const batcher = new InboxBatcher(inbox, oneByOne(10, { inAll: load(40), ofOneStation: load(20) }));
      const taken = [batcher.accept(events(0, 20, 'flood'))];
      await expect(batcher.accept(events(20, 21, 'flood'))).rejects.toMatchObject({ code: 'station-full' });
      taken.push(batcher.accept(events(0, 1, 'quiet')));
      const all = Promise.all(taken);
      for (let insert = 0; insert < 3; insert += 1) {
        await settle();
        await settle();
        gates[insert]?.open();
      }
      expect((await all).flat()).toHaveLength(21);
    });

    it('gives room back where an insert fails', async () => {
      const { inbox, gates, settle } = gatedInbox();
      const batcher = new InboxBatcher(inbox, oneByOne(10, { inAll: load(10) }));
      const failing = batcher.accept(events(0, 10));
      await settle();
      gates[0]?.fail(new Error('insert failed'));
      await expect(failing).rejects.toThrow('insert failed');
      const again = batcher.accept(events(0, 10));
      await settle();
      await settle();
      gates[1]?.open();
      expect(await again).toHaveLength(10);
    });
  });

  describe('of several stations', () => {
    /** What each insert had of each station. */
    const shares = ({ calls }: ListedInbox): Record<string, number>[] =>
      calls.map((call) => {
        const share: Record<string, number> = {};
        for (const { source } of call) share[source] = (share[source] ?? 0) + 1;
        return share;
      });

    async function drained(ask: (batcher: InboxBatcher) => readonly Promise<unknown>[]): Promise<ListedInbox> {
      const { inbox, gates, settle } = gatedInbox();
      const asked = Promise.all(ask(new InboxBatcher(inbox, oneByOne(10))));
      // An insert begins a turn after the one before it has ended.
      await settle();
      for (let gate = gates.shift(); gate !== undefined; gate = gates.shift()) {
        gate.open();
        await settle();
        await settle();
      }
      await asked;
      return inbox;
    }

    it('has a single event wait for one insert of a station that sent a hundred before it', async () => {
      const inbox = await drained((batcher) => [
        ...Array.from({ length: 10 }, (_, n) => batcher.accept(events(n * 10, n * 10 + 10, 'flood'))),
        batcher.accept([event('a', 'same', 'quiet')]),
      ]);
      expect(shares(inbox).slice(0, 3)).toEqual([
        { '/stations/flood': 10 },
        { '/stations/quiet': 1 },
        { '/stations/flood': 10 },
      ]);
    });

    it('fills an insert with what all of them have, one after the other', async () => {
      const inbox = await drained((batcher) =>
        ['a', 'b', 'c'].flatMap((station) =>
          Array.from({ length: 20 }, (_, n) => batcher.accept([event(String(n), 'same', station)])),
        ),
      );
      expect(shares(inbox)[0]).toEqual({ '/stations/a': 4, '/stations/b': 3, '/stations/c': 3 });
      expect(inbox.calls).toHaveLength(6);
    });

    it('lets none wait for more inserts than there are stations, whatever they send', async () => {
      const requests = fc.array(fc.tuple(fc.constantFrom('a', 'b', 'c', 'd'), fc.integer({ min: 1, max: 10 })), {
        minLength: 1,
        maxLength: 30,
      });
      await fc.assert(
        fc.asyncProperty(requests, async (asked) => {
          const sent = asked.map(([station, size], n) => events(n * 10, n * 10 + size, station));
          const inbox = await drained((batcher) => sent.map((request) => batcher.accept(request)));
          const stations = new Set(asked.map(([station]) => station));
          const open = new Map<string, number>();
          for (const { source } of sent.flat()) open.set(source, (open.get(source) ?? 0) + 1);
          const passedBy = new Map<string, number>();
          for (const call of inbox.calls) {
            const here = new Set(call.map(({ source }) => source));
            for (const { source } of call) open.set(source, (open.get(source) ?? 0) - 1);
            for (const [source, left] of open) {
              passedBy.set(source, here.has(source) || left === 0 ? 0 : (passedBy.get(source) ?? 0) + 1);
              expect(passedBy.get(source)).toBeLessThan(stations.size);
            }
            expect(call.length).toBeLessThanOrEqual(10);
          }
          // Of each station in the order of its requests.
          for (const station of stations) {
            const own = (of: readonly IncomingEvent[]) => of.filter(({ source }) => source === `/stations/${station}`);
            expect(own(inbox.calls.flat())).toEqual(own(sent.flat()));
          }
        }),
      );
    });
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
        const batcher = new InboxBatcher(behind, oneByOne(6));
        const expected: Acceptance[] = [];
        for (const each of asked.flat()) expected.push(...(await alone.accept([each])));
        expect((await Promise.all(asked.map((request) => batcher.accept(request)))).flat()).toEqual(expected);
        for (const call of behind.calls.slice(1)) expect(new Set(call.map(refKey)).size).toBe(call.length);
      }),
    );
  });
});
