import { BookTransaction } from '../ports/book-store.js';
import { GENESIS_HASH } from '../ports/seal.js';
import { memoryBook } from './memory-book.js';

const NO_CHANGES = { subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [] };

function freshBook() {
  return memoryBook({ now: () => '2026-03-02T08:00:00.000Z', shards: 4 }).book;
}

describe('transaction in memory', () => {
  it('cannot be used once it has ended', async () => {
    const kept: BookTransaction[] = [];
    await freshBook().exclusively((tx) => Promise.resolve(kept.push(tx)));
    for (const tx of kept) {
      await expect(tx.load(['BRD-1/0001'])).rejects.toThrow('has ended');
      await expect(tx.write(NO_CHANGES)).rejects.toThrow('has ended');
    }
    expect(kept).toHaveLength(1);
  });

  it('refuses a head that the ledger does not have', async () => {
    const subject = { key: 'BRD-1/0001', state: null, headSeq: 1, headHash: GENESIS_HASH };
    const writing = freshBook().exclusively((tx) => tx.write({ ...NO_CHANGES, subjects: [subject] }));
    await expect(writing).rejects.toThrow('The ledger of BRD-1/0001 ends at 0, not at the head 1');
  });

  it('refuses to settle an event that is not pending', async () => {
    const writing = freshBook().exclusively((tx) => tx.write({ ...NO_CHANGES, done: ['1'] }));
    await expect(writing).rejects.toThrow('Event 1 of the inbox does not wait to be folded');
  });

  it('breaks a circle of waits by refusing one of the two', async () => {
    const book = freshBook();
    const load = (shard: number, first: string, then: string) =>
      book.withShards([shard], async (tx) => {
        await tx.load([first]);
        await tx.load([then]);
      });
    const results = await Promise.allSettled([
      load(0, 'devices/D1', 'devices/D2'),
      load(1, 'devices/D2', 'devices/D1'),
    ]);
    expect(results.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
  });
});
