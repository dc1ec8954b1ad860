import { BookBench, NO_CHANGES } from './book-bench.contract.js';
import { holdId, sampleHold } from './book-samples.contract.js';
import { BookTransaction, StoredEntry } from './book-store.js';
import { GENESIS_HASH } from './seal.js';

const UNIT = 'BRD-1/0001';

/** What a ledger refuses, and that a refusal leaves nothing behind. */
export function describeAppendOnly(bench: () => BookBench): void {
  const attempts: [string, (head: { seq: number; hash: string; prevHash: string }) => StoredEntry[]][] = [
    ['overwrites an entry', (head) => [bench().entry(UNIT, head.seq, head.prevHash, { data: 'other' })]],
    ['repeats an entry', (head) => [bench().entry(UNIT, head.seq, head.prevHash)]],
    ['leaves a gap', (head) => [bench().entry(UNIT, head.seq + 2, head.hash)]],
    ['does not follow the head', (head) => [bench().entry(UNIT, head.seq + 1, head.prevHash)]],
    ['starts a ledger in the middle', () => [bench().entry('devices/D1', 2, GENESIS_HASH)]],
    ['starts a ledger from nowhere', (head) => [bench().entry('devices/D1', 1, head.hash)]],
    [
      'has one place twice',
      (head) => [bench().entry(UNIT, head.seq + 1, head.hash), bench().entry(UNIT, head.seq + 1, head.hash)],
    ],
    [
      'numbers two linked entries alike',
      (head) => {
        const first = bench().entry(UNIT, head.seq + 1, head.hash);
        return [first, bench().entry(UNIT, head.seq + 1, first.entry.hash)];
      },
    ],
    [
      'breaks off within itself',
      (head) => [bench().entry(UNIT, head.seq + 1, head.hash), bench().entry(UNIT, head.seq + 2, head.hash)],
    ],
  ];
  it.each(attempts)('refuses a write that %s, and everything with it', async (_what, make) => {
    await bench().append(UNIT, 2);
    const before = await bench().read.ledger(UNIT, { limit: 10, order: 'asc', afterSeq: null });
    const head = before.at(-1);
    if (head === undefined) throw new Error('the ledger is empty');
    for (const headAs of ['told', 'counted'] as const) {
      const writing = bench().inShard(0, (tx) => writeAgainst(bench(), tx, make(head), headAs));
      await expect(writing).rejects.toThrow();
    }
    expect(await bench().read.ledger(UNIT, { limit: 10, order: 'asc', afterSeq: null })).toEqual(before);
    expect(await bench().read.subject(UNIT)).toMatchObject({ headSeq: 2, headHash: head.hash });
    expect(await bench().read.ledger('devices/D1', { limit: 10, order: 'asc', afterSeq: null })).toEqual([]);
    expect(await bench().read.holdById(holdId('h1'))).toBeUndefined();
  });

  it('does not commit a transaction whose write was refused, though its work went on', async () => {
    const working = bench().inShard(0, async (tx) => {
      await bench().appendIn(tx, UNIT);
      await writeAgainst(bench(), tx, [bench().entry(UNIT, 1, GENESIS_HASH)], 'told').catch(() => undefined);
    });
    await expect(working).rejects.toThrow();
    expect(await bench().read.ledger(UNIT, { limit: 10, order: 'asc', afterSeq: null })).toEqual([]);
  });
}

/** Writes entries, a hold beside them, and heads that fit: what the last entry tells, or what counting gives. */
async function writeAgainst(
  bench: BookBench,
  tx: BookTransaction,
  entries: StoredEntry[],
  headAs: 'told' | 'counted',
): Promise<void> {
  const records = await tx.load(entries.map(({ entry }) => entry.subject));
  const subjects = records.map((record) => {
    const own = entries.filter(({ entry }) => entry.subject === record.key).map(({ entry }) => entry);
    const last = own.at(-1) ?? { seq: 0, hash: GENESIS_HASH };
    const headSeq = headAs === 'told' ? last.seq : record.headSeq + own.length;
    return { ...bench.grown(record).subject, headSeq, headHash: last.hash };
  });
  await tx.write({ ...NO_CHANGES, subjects, entries, holds: [sampleHold('h1')] });
}
