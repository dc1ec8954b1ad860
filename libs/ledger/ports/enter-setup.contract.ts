import { BookBench } from './book-bench.contract.js';
import { assemblyDesign, partData } from './book-samples.contract.js';

/** Setup that is entered together with the book's own changes. */
export function describeEnterSetup(bench: () => BookBench): void {
  it('enters a revision in one commit with entries, counted like any other', async () => {
    const { setup, book, read } = bench();
    const before = await setup.revise('part', 'P-1', partData(17), 'admin');
    const entered = await book.exclusively(async (tx) => {
      const revision = await tx.enterSetup('part', 'P-1', partData(19), 'approver');
      await bench().appendIn(tx, 'BRD-1/0001');
      return { revision, seen: await tx.setupVersion() };
    });
    expect(entered.revision).toMatchObject({ revision: 2, version: before.version + 1, by: 'approver' });
    expect(entered.seen).toBe(before.version + 1);
    expect(await setup.revisionsAfter(before.version)).toEqual([entered.revision]);
    expect(await read.subject('BRD-1/0001')).toMatchObject({ headSeq: 1 });
  });

  it('answers the newest revision where its body is the same', async () => {
    const { setup, book } = bench();
    const known = await setup.revise('assembly', 'BRD-1', assemblyDesign('Northlight'), 'admin');
    const { customer, ...rest } = assemblyDesign('Northlight');
    expect(await book.exclusively((tx) => tx.enterSetup('assembly', 'BRD-1', { ...rest, customer }, 'other'))).toEqual(
      known,
    );
  });

  it('leaves no revision of a transaction that failed', async () => {
    const { setup, book } = bench();
    const before = await setup.revise('part', 'P-1', partData(17), 'admin');
    const failing = book.exclusively(async (tx) => {
      await tx.enterSetup('part', 'P-1', partData(19), 'approver');
      throw new Error('on purpose');
    });
    await expect(failing).rejects.toThrow('on purpose');
    expect(await setup.revisionsAfter(before.version)).toEqual([]);
    const after = await setup.revise('part', 'P-1', partData(21), 'admin');
    expect(after).toMatchObject({ revision: 2, version: before.version + 1 });
  });

  it('keeps everybody else from adding revisions until it ends', async () => {
    const { setup, book } = bench();
    let revising: Promise<unknown> = Promise.resolve();
    const inside = await book.exclusively(async (tx) => {
      const first = await tx.enterSetup('part', 'P-1', partData(17), 'approver');
      revising = setup.revise('part', 'P-2', partData(17), 'admin');
      await bench().giveWay();
      expect(await tx.setupVersion()).toBe(first.version);
      return first;
    });
    expect(await revising).toMatchObject({ version: inside.version + 1 });
  });
}
