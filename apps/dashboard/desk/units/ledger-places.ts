/** Entries that are fetched together. */
export const PAGE_ENTRIES = 100;

/** Entries of a ledger are numbered without gap, from 1 to the newest: a row has its entry by its place alone. */
export function seqOfRow(row: number, newestSeq: number, order: 'asc' | 'desc'): number {
  return order === 'asc' ? row + 1 : newestSeq - row;
}

/** The row, from 0, that an entry has. */
export function rowOfSeq(seq: number, newestSeq: number, order: 'asc' | 'desc'): number {
  return order === 'asc' ? seq - 1 : newestSeq - seq;
}

/** The page, from 0, that an entry is fetched with; the same whatever the order, so that turning it fetches nothing. */
export function pageOfSeq(seq: number): number {
  return Math.floor((seq - 1) / PAGE_ENTRIES);
}

/** First and last entry of a page. */
export function rangeOfPage(page: number): { readonly fromSeq: number; readonly toSeq: number } {
  return { fromSeq: page * PAGE_ENTRIES + 1, toSeq: (page + 1) * PAGE_ENTRIES };
}

/** The number of an entry that somebody typed, if the ledger has it. */
export function seqTyped(text: string, newestSeq: number): number | undefined {
  const seq = /^\s*#?\s*(\d{1,9})\s*$/.exec(text)?.[1];
  const number = Number(seq);
  return seq !== undefined && number >= 1 && number <= newestSeq ? number : undefined;
}
