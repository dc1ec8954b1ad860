import { defaultRangeExtractor, type Range, useVirtualizer, type Virtualizer } from '@tanstack/react-virtual';
import { type FocusEvent, useEffect, useRef, useState } from 'react';
import { type DeskFilter, writeFilter } from './desk-filter.js';
import { extentOf, lightened, markAt, PAGE_ROWS, placeOf } from './desk-pages.js';
import { type DeskPlace, leavePlace, placeLeft } from './desk-place.js';
import { rowLinkId } from './desk-row-link.js';
import { type Sight, useDeskPages } from './use-desk-pages.js';
import { useHand } from './use-hand.js';

/** Expected; rows are measured once they are there. */
const ROW_PX = 53;
const OVERSCAN = 8;
/** Drawn empty at the end while more is on its way, which is asked for before they come into sight. */
const WAITING_ROWS = 12;
const AHEAD_ROWS = 30;

type List = Virtualizer<HTMLDivElement, Element>;

export type DeskListAtWork = ReturnType<typeof useDeskList>;

/** The list of holds at work: what is in sight, where the keyboard is, and what was held back while a hand was on it. */
export function useDeskList(filter: DeskFilter) {
  const address = writeFilter(filter).toString();
  const [left] = useState(() => placeLeft(address));
  const [sight, setSight] = useState<Sight>(() => sightOf(Math.floor((left?.scrolledPx ?? 0) / ROW_PX), 0));
  const [cursor, setCursor] = useState(left?.cursor ?? null);
  const [box, setBox] = useState<HTMLDivElement | null>(null);
  const hand = useHand();
  const { pages, error, retry, renew } = useDeskPages({ filter, sight, held: hand.held, begin: left?.pages ?? [] });
  const { known, more } = extentOf(pages);
  const list = useVirtualizer<HTMLDivElement, Element>({
    count: known + (more ? WAITING_ROWS : 0),
    getScrollElement: () => box,
    estimateSize: () => ROW_PX,
    overscan: OVERSCAN,
    initialOffset: left?.scrolledPx ?? 0,
    rangeExtractor: (range) => withCursor(range, cursor),
    onChange: ({ range }) => {
      if (range === null) return;
      const now = sightOf(range.startIndex, range.endIndex + AHEAD_ROWS);
      setSight((before) => (before.first === now.first && before.last === now.last ? before : now));
    },
  });
  const focusCursor = useFocusedCursor(list, cursor, left !== undefined);
  useLeavePlace({ filter: address, pages, cursor, scrolledPx: list.scrollOffset ?? 0 });

  const goTo = (index: number) => {
    const place = Math.max(0, Math.min(index, known - 1));
    setCursor(place);
    focusCursor();
    return place;
  };
  return {
    ...{ setBox, list, pages, error, retry, known, more, cursor, goTo },
    firstInSight: list.range?.startIndex ?? 0,
    on: {
      ...hand.on,
      onFocus: ({ target }: FocusEvent) => {
        hand.on.onFocus();
        const row = target.closest('[data-index]')?.getAttribute('data-index');
        if (typeof row === 'string') setCursor(Number(row));
      },
    },
    /** Lets in what was held back; the keyboard stays on its hold. */
    renew: () => {
      const id = cursor === null ? undefined : markAt(pages, cursor)?.id;
      const newest = renew();
      if (id === undefined || box?.contains(document.activeElement) !== true) return;
      goTo(Math.max(0, placeOf(newest, id)));
    },
  };
}

function sightOf(firstRow: number, lastRow: number): Sight {
  const [first, last] = [Math.floor(firstRow / PAGE_ROWS), Math.floor(lastRow / PAGE_ROWS)];
  return { first, last: Math.max(first, last) };
}

/** What is drawn: what is in sight, and the row that the keyboard is on wherever it is, since focus lives in it. */
function withCursor(range: Range, cursor: number | null): number[] {
  const drawn = defaultRangeExtractor(range);
  if (cursor === null || cursor >= range.count || drawn.includes(cursor)) return drawn;
  return [...drawn, cursor].sort((one, other) => one - other);
}

/** Brings focus to the row of the cursor, as soon as it is drawn. */
function useFocusedCursor(list: List, cursor: number | null, comesBack: boolean): () => void {
  const wanted = useRef(false);
  useEffect(() => {
    // Coming back from a hold, nothing has focus, or the heading has; whoever comes by a link keeps it there.
    wanted.current = comesBack && document.activeElement?.matches('body, h1') === true;
  }, [comesBack]);
  useEffect(() => {
    if (!wanted.current || cursor === null) return;
    list.scrollToIndex(cursor, { align: 'auto' });
    const link = document.getElementById(rowLinkId(cursor));
    link?.focus({ preventScroll: true });
    wanted.current = link === null;
  });
  return () => {
    wanted.current = true;
  };
}

/** Remembers the place when the list is left. */
function useLeavePlace(place: DeskPlace): void {
  const latest = useRef(place);
  useEffect(() => {
    latest.current = place;
  });
  useEffect(
    () => () => {
      const { pages, ...rest } = latest.current;
      leavePlace({ ...rest, pages: lightened(pages, -2, -2) });
    },
    [],
  );
}
