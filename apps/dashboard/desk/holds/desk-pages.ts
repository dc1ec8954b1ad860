/** As many holds as a page of the list has; only the last has fewer. */
export const PAGE_ROWS = 100;

/** What the list needs to know of a hold. */
export interface Listed {
  readonly id: string;
  readonly dueAt?: string | null;
}

/** A page as the API answered it. */
export interface FreshPage<Row extends Listed> {
  readonly items: readonly Row[];
  readonly nextCursor: string | null;
}

/** A page of the list as it is shown. */
export interface ShownPage<Row extends Listed> {
  /** What every hold on it is called, kept for as long as the list is shown. */
  readonly marks: readonly { readonly id: string; readonly dueAt: string | null }[];
  /** Where the next page begins; null on the last. */
  readonly next: string | null;
  /** The holds themselves, kept only for pages in sight. */
  readonly rows: readonly Row[] | null;
  /** The answer it was last made from, or, where that was held back, is still to be made from. */
  readonly fresh: FreshPage<Row> | null;
  /** How many holds of the answer are held back, and how many of those shown are no longer in it. */
  readonly arrived: number;
  readonly gone: ReadonlySet<string>;
}

const NONE: ReadonlySet<string> = new Set();

/**
 * The list with an answer for one of its pages. While it is held, no row moves: holds that came stay out, those that went
 * stay in, and what else changed about a hold is shown where it stands.
 * @param n place of the page, from 0; at most one beyond those shown
 * @returns the same list where nothing is new
 */
export function withFresh<Row extends Listed>(
  pages: readonly ShownPage<Row>[],
  n: number,
  fresh: FreshPage<Row>,
  held: boolean,
): readonly ShownPage<Row>[] {
  const old = pages[n];
  if (old?.fresh === fresh && (held || !isBehind(old))) return pages;
  const page = old?.rows && held ? merged(old, old.rows, fresh) : shown(fresh);
  // A list that has become shorter ends here.
  const after = page.next === null ? [] : pages.slice(n + 1);
  return [...pages.slice(0, n), page, ...after];
}

/** The list as the newest answers have it. */
export function renewed<Row extends Listed>(pages: readonly ShownPage<Row>[]): readonly ShownPage<Row>[] {
  return pages.reduce((list, page, n) => {
    return page.fresh !== null && isBehind(page) ? withFresh(list, n, page.fresh, false) : list;
  }, pages);
}

function isBehind<Row extends Listed>({ arrived, gone }: ShownPage<Row>): boolean {
  return arrived > 0 || gone.size > 0;
}

function shown<Row extends Listed>(fresh: FreshPage<Row>): ShownPage<Row> {
  const marks = fresh.items.map(({ id, dueAt }) => ({ id, dueAt: dueAt ?? null }));
  return { marks, next: fresh.nextCursor, rows: fresh.items, fresh, arrived: 0, gone: NONE };
}

function merged<Row extends Listed>(old: ShownPage<Row>, rows: readonly Row[], fresh: FreshPage<Row>): ShownPage<Row> {
  const now = new Map(fresh.items.map((row) => [row.id, row]));
  const before = new Set(rows.map(({ id }) => id));
  // What stands beyond the last one known has moved up from the next page, where there was one; it has not just come.
  const known = fresh.items.findLastIndex(({ id }) => before.has(id)) + 1;
  const inPlace = old.next === null ? fresh.items : fresh.items.slice(0, known);
  const arrived = inPlace.filter(({ id }) => !before.has(id)).length;
  // Whoever came in pushes the last ones onto the next page: these are not gone. None was pushed from a page that has room.
  const hadRoom = fresh.nextCursor === null || inPlace.length < fresh.items.length;
  const until = hadRoom ? rows.length : rows.findLastIndex(({ id }) => now.has(id));
  const gone = rows.slice(0, Math.max(0, until)).filter(({ id }) => !now.has(id));
  return {
    ...old,
    rows: rows.map((row) => now.get(row.id) ?? row),
    fresh,
    arrived,
    gone: new Set(gone.map(({ id }) => id)),
  };
}

/** The list without the holds of pages that are far from those in sight: what they are called is enough of them. */
export function lightened<Row extends Listed>(
  pages: readonly ShownPage<Row>[],
  first: number,
  last: number,
): readonly ShownPage<Row>[] {
  const isFar = (n: number) => n < first - 1 || n > last + 1;
  if (!pages.some(({ rows }, n) => rows !== null && isFar(n))) return pages;
  return pages.map((page, n) => (isFar(n) ? { ...page, rows: null, fresh: null, arrived: 0, gone: NONE } : page));
}

/** How many rows are known, and whether more will come. */
export function extentOf<Row extends Listed>(pages: readonly ShownPage<Row>[]): { known: number; more: boolean } {
  const last = pages.at(-1);
  if (last === undefined) return { known: 0, more: true };
  return { known: (pages.length - 1) * PAGE_ROWS + last.marks.length, more: last.next !== null };
}

/** What the hold at a place in the list is called. */
export function markAt<Row extends Listed>(pages: readonly ShownPage<Row>[], index: number) {
  return pages[Math.floor(index / PAGE_ROWS)]?.marks[index % PAGE_ROWS];
}

/** The hold at a place in the list, where it is at hand, and whether it is no longer among what the API lists. */
export function rowAt<Row extends Listed>(pages: readonly ShownPage<Row>[], index: number) {
  const page = pages[Math.floor(index / PAGE_ROWS)];
  const row = page?.rows?.[index % PAGE_ROWS];
  return row === undefined ? undefined : { row, gone: page?.gone.has(row.id) ?? false };
}

/** Where a hold stands in the list, or -1. */
export function placeOf<Row extends Listed>(pages: readonly ShownPage<Row>[], id: string): number {
  for (const [n, { marks }] of pages.entries()) {
    const at = marks.findIndex((mark) => mark.id === id);
    if (at >= 0) return n * PAGE_ROWS + at;
  }
  return -1;
}
