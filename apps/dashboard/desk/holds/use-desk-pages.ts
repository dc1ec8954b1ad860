import { useQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { useSession } from '../session/session-gate.js';
import { type DeskFilter, queryOf } from './desk-filter.js';
import { lightened, PAGE_ROWS, renewed, type ShownPage, withFresh } from './desk-pages.js';

export type Hold = Schemas['Hold'];
export type HoldPages = readonly ShownPage<Hold>[];

/** Pages out of sight are kept for so long, for whoever scrolls back. */
const KEPT_MS = 60_000;

/** Which pages of the list are in sight, both included. */
export interface Sight {
  readonly first: number;
  readonly last: number;
}

interface DeskPagesWanted {
  readonly filter: DeskFilter;
  readonly sight: Sight;
  /** No row is to move. */
  readonly held: boolean;
  /** Pages known from before. */
  readonly begin: HoldPages;
}

/**
 * The list of holds in pages. Only those in sight are asked for, and renewed when the stream says so; what goes on far
 * from there costs nothing, however long the list is.
 */
export function useDeskPages({ filter, sight, held, begin }: DeskPagesWanted) {
  const { name } = useSession();
  const [pages, setPages] = useState(begin);
  const wanted = placesWanted(pages, sight);
  const answers = useQueries({
    queries: wanted.map(({ cursor }) => ({
      queryKey: keys.holds({ ...filter, cursor }),
      queryFn: () => askPage(filter, name, cursor),
      gcTime: KEPT_MS,
    })),
  });
  let list = pages;
  answers.forEach(({ data }, at) => {
    const n = wanted[at]?.n ?? 0;
    if (data !== undefined && isReached(list, n)) list = withFresh(list, n, data, held);
  });
  list = lightened(list, sight.first, sight.last);
  if (list !== pages) setPages(list);
  const failed = answers.find(({ isError }) => isError);
  return {
    pages: list,
    /** Why a page in sight could not be had, or not be renewed. */
    error: failed?.error ?? null,
    retry: () => {
      for (const { isError, refetch } of answers) if (isError) void refetch();
    },
    /** Lets in what was held back. @returns the list as it is then */
    renew: (): HoldPages => {
      const newest = renewed(list);
      setPages(newest);
      return newest;
    },
  };
}

function placesWanted(pages: HoldPages, { first, last }: Sight): { n: number; cursor: string | null }[] {
  const wanted: { n: number; cursor: string | null }[] = [];
  for (let n = Math.min(first, pages.length); n <= last; n += 1) {
    if (isReached(pages, n)) wanted.push({ n, cursor: pages[n - 1]?.next ?? null });
  }
  return wanted;
}

/** The first page, and those whose beginning the page before them told. */
function isReached(pages: HoldPages, n: number): boolean {
  return n === 0 || (pages[n - 1]?.next ?? null) !== null;
}

/** Holds from a place in the list on. */
export function askPage(filter: DeskFilter, me: string, cursor: string | null, limit = PAGE_ROWS) {
  const query = { ...queryOf(filter, me, Date.now()), limit, ...(cursor !== null && { cursor }) };
  return dataOf(api.GET('/v1/holds', { params: { query } }));
}
