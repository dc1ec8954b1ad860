import { BookBench, NO_CHANGES, number } from './book-bench.contract.js';
import { holdId, sampleHold } from './book-samples.contract.js';
import { BookTransaction } from './book-store.js';

const UNIT = 'BRD-1/0001';

/** A fold is kept as a whole or not at all. */
export function describeRollback(bench: () => BookBench): void {
  const ways: [string, (work: (tx: BookTransaction) => Promise<never>) => Promise<unknown>][] = [
    ['with a shard', (work) => bench().book.withShards([0], work)],
    ['with the whole book', (work) => bench().book.exclusively(work)],
  ];
  it.each(ways)('takes back everything where work %s throws, and passes the error on', async (_name, run) => {
    await bench().accept('e1', 'e2', 'e3');
    const pending = await bench().pending();
    await bench().write({ holds: [sampleHold('h1')] });
    const [e1, e2, e3] = pending.map(number);
    const failing = run(async (tx) => {
      const { subject, entries } = bench().grown(await bench().loadOne(tx, UNIT), 2);
      await tx.write({
        subjects: [subject],
        entries,
        holds: [sampleHold('h1', { state: 'withdrawn' }), sampleHold('h2')],
        done: [String(e1)],
        parked: [{ number: String(e2), reason: { code: 'unreadable', detail: 'It is.', remedy: 'None.' } }],
        postponed: [{ number: String(e3), delayMs: 600_000, error: 'no luck' }],
      });
      throw new Error('the fold fell over');
    });
    await expect(failing).rejects.toThrow('the fold fell over');
    expect(await bench().pending()).toEqual(pending);
    expect(await bench().read.ledger(UNIT, { limit: 10, order: 'asc', afterSeq: null })).toEqual([]);
    expect((await bench().read.subject(UNIT))?.state ?? null).toBeNull();
    expect(await bench().read.holdById(holdId('h1'))).toEqual(sampleHold('h1'));
    expect(await bench().read.holdById(holdId('h2'))).toBeUndefined();
  });

  it('shows nothing to readers before it is committed', async () => {
    await bench().append(UNIT);
    await bench().inShard(0, async (tx) => {
      await bench().appendIn(tx, UNIT);
      await tx.write({ ...NO_CHANGES, holds: [sampleHold('h1')] });
      expect(await bench().read.subject(UNIT)).toMatchObject({ headSeq: 1 });
      expect(await bench().read.holdById(holdId('h1'))).toBeUndefined();
    });
    expect(await bench().read.subject(UNIT)).toMatchObject({ headSeq: 2 });
    expect(await bench().read.holdById(holdId('h1'))).toEqual(sampleHold('h1'));
  });
}
