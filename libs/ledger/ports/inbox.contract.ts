import { BookBench, number, STATION } from './book-bench.contract.js';
import { UNKNOWN_ASSEMBLY } from './book-samples.contract.js';

/** The durable inbox: what `accept` answers and what it keeps. */
export function describeInbox(bench: () => BookBench): void {
  it('answers every event of a mixed batch in its order', async () => {
    const { book } = bench();
    await book.accept([bench().incoming('e1'), bench().incoming('e2')]);
    const answers = await book.accept([
      bench().incoming('e3'),
      bench().incoming('e2', undefined, 'changed'),
      bench().incoming('e1'),
      bench().incoming('e4', 'devices/D1'),
      bench().incoming('e3'),
      bench().incoming('e4', 'devices/D1', 'changed'),
    ]);
    expect(answers).toEqual(['accepted', 'conflict', 'duplicate', 'accepted', 'duplicate', 'conflict']);
    expect(await book.accept([])).toEqual([]);
  });

  it('keeps neither duplicates nor conflicts', async () => {
    const { book } = bench();
    await book.accept([bench().incoming('e1', undefined, 'first'), bench().incoming('e1', undefined, 'second')]);
    await book.accept([bench().incoming('e1', 'devices/D1', 'third'), bench().incoming('e1', undefined, 'first')]);
    const pending = await bench().pending();
    expect(pending.map(({ event }) => [event.subject, event.data.note])).toEqual([['BRD-1/0001', 'first']]);
  });

  it('keeps the request that brought an event first, where it is named, and tells each once', async () => {
    const { book, read } = bench();
    const [first, second] = [
      { id: 'r-1', traceparent: null },
      { id: 'r-2', traceparent: '00-ab-cd-01' },
    ];
    await book.accept([
      { ...bench().incoming('e1'), request: second },
      bench().incoming('e2'),
      { ...bench().incoming('e3'), request: first },
      { ...bench().incoming('e4'), request: second },
    ]);
    await book.accept([{ ...bench().incoming('e1'), request: first }]);
    await bench().accept('e5');
    const kept = ['e1', 'e2', 'e5'].map((id) => read.eventStatus({ source: STATION, id }));
    expect((await Promise.all(kept)).map((status) => status?.request)).toEqual([second, undefined, undefined]);
    const pending = (await bench().pending()).map(number);
    const asked = (limit: number) => book.besideFolds((tx) => tx.requestsOf(pending, limit));
    expect([await asked(10), await asked(1)]).toEqual([[second, first], [second]]);
    expect(await book.besideFolds((tx) => tx.requestsOf([], 10))).toEqual([]);
  });

  it('takes one id of two sources for two events', async () => {
    const other = bench().incoming('e1', undefined, 'as seen', '/stations/bench-2');
    expect(await bench().book.accept([bench().incoming('e1'), other])).toEqual(['accepted', 'accepted']);
  });

  it('has stored what it has answered', async () => {
    await bench().accept('e1', 'e2');
    expect(await bench().read.eventStatus({ source: STATION, id: 'e2' })).toMatchObject({ state: 'pending' });
    expect(await bench().pendingIds()).toEqual(['e1', 'e2']);
  });

  it('shows a batch as a whole or not at all', async () => {
    const { book, read } = bench();
    const ids = Array.from({ length: 200 }, (_, index) => `e${index}`);
    const accepting = book.accept(ids.map((id) => bench().incoming(id, `BRD-1/${id}`)));
    const seen = new Set<number>();
    let pending = 0;
    while (pending < ids.length) {
      ({ pending } = await read.backlog());
      seen.add(pending);
    }
    await accepting;
    expect([...seen].filter((count) => count !== 0)).toEqual([200]);
  });

  it('accepts an event once, however many send it at once and in whatever order', async () => {
    const ids = Array.from({ length: 40 }, (_, index) => `e${index}`);
    const batches = [ids, [...ids].reverse(), [...ids.slice(20), ...ids.slice(0, 20)], ids];
    const answers = (await Promise.all(batches.map((batch) => bench().accept(...batch)))).flat();
    expect(answers.filter((answer) => answer === 'accepted')).toHaveLength(40);
    expect(answers.filter((answer) => answer === 'duplicate')).toHaveLength(120);
    expect((await bench().pendingIds()).sort()).toEqual([...ids].sort());
  });

  it('knows an event again after it was folded or parked', async () => {
    await bench().accept('e1', 'e2');
    await bench().settle(([first, second]) => ({
      done: first === undefined ? [] : [number(first)],
      parked: second === undefined ? [] : [{ number: number(second), reason: UNKNOWN_ASSEMBLY }],
    }));
    expect(await bench().accept('e1', 'e2')).toEqual(['duplicate', 'duplicate']);
    const changed = ['e1', 'e2'].map((id) => bench().incoming(id, undefined, 'changed'));
    expect(await bench().book.accept(changed)).toEqual(['conflict', 'conflict']);
    expect(await bench().pendingIds()).toEqual([]);
  });
}
