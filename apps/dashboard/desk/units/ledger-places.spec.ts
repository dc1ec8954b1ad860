import { PAGE_ENTRIES, pageOfSeq, rangeOfPage, rowOfSeq, seqOfRow, seqTyped } from './ledger-places.js';

describe('A row of a ledger', () => {
  it.each(['asc', 'desc'] as const)('has its entry by its place alone, %s', (order) => {
    const rows = Array.from({ length: 7 }, (_, row) => seqOfRow(row, 7, order));
    expect(rows).toEqual(order === 'asc' ? [1, 2, 3, 4, 5, 6, 7] : [7, 6, 5, 4, 3, 2, 1]);
    expect(rows.map((seq) => rowOfSeq(seq, 7, order))).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  it('is fetched with the page that has its entry', () => {
    for (const seq of [1, PAGE_ENTRIES, PAGE_ENTRIES + 1, 4_999, 5_000]) {
      const { fromSeq, toSeq } = rangeOfPage(pageOfSeq(seq));
      expect(fromSeq <= seq && seq <= toSeq && toSeq - fromSeq + 1 === PAGE_ENTRIES).toBe(true);
    }
  });
});

describe('A typed number', () => {
  it.each([
    ['17', 17],
    [' #17 ', 17],
    ['20', 20],
    ['0', undefined],
    ['21', undefined],
    ['x', undefined],
    ['1.5', undefined],
    ['', undefined],
  ])('%j leads to %s', (text, seq) => {
    expect(seqTyped(text, 20)).toBe(seq);
  });
});
