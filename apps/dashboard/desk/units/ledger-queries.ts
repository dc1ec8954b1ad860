import { useInfiniteQuery, useQueries, useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { ANNULLED, REJUDGED } from './entry-parts.js';
import { type HoldFinder, holdFinder } from './ledger-holds.js';
import { laterWords, type LaterWords } from './ledger-story.js';
import { PAGE_ENTRIES, rangeOfPage } from './ledger-places.js';

/** Whose ledger it is. */
export type LedgerSource =
  | { readonly kind: 'unit'; readonly assembly: string; readonly serial: string }
  | { readonly kind: 'device'; readonly device: string };

export type LedgerOrder = 'asc' | 'desc';

interface LedgerAsk {
  readonly limit: number;
  readonly order: LedgerOrder;
  readonly type?: string;
  /** The first entry to be had, by seq. */
  readonly from?: number;
  readonly cursor?: string;
}

interface LedgerPage {
  readonly items: Schemas['Entry'][];
  readonly nextCursor: string | null;
}

/** What entries call their ledger. */
function streamOf(source: LedgerSource): string {
  return source.kind === 'unit' ? `${source.assembly}/${source.serial}` : `devices/${source.device}`;
}

function readLedger(source: LedgerSource, query: LedgerAsk, signal: AbortSignal): Promise<LedgerPage> {
  if (source.kind === 'unit') {
    const path = { assembly: source.assembly, serial: source.serial };
    return dataOf(api.GET('/v1/units/{assembly}/{serial}/ledger', { params: { path, query }, signal }));
  }
  const path = { device: source.device };
  return dataOf(api.GET('/v1/devices/{device}/ledger', { params: { path, query }, signal }));
}

/** The newest entry, whose seq is the number of entries; null in an empty ledger. */
export function useNewestEntry(source: LedgerSource) {
  return useQuery({
    queryKey: keys.ledger(streamOf(source), { newest: true }),
    queryFn: async ({ signal }) => (await readLedger(source, { limit: 1, order: 'desc' }, signal)).items[0] ?? null,
  });
}

/** A page of all entries, by place. What is not looked at any more is not waited for. */
export function useLedgerPage(source: LedgerSource, page: number) {
  const { fromSeq } = rangeOfPage(page);
  return useQuery({
    queryKey: keys.ledger(streamOf(source), { page }),
    queryFn: ({ signal }) => readLedger(source, { limit: PAGE_ENTRIES, order: 'asc', from: fromSeq }, signal),
    select: ({ items }) => new Map(items.map((entry) => [entry.seq, entry])),
  });
}

/** Beyond these pages a list is no longer renewed by itself: each would be asked for again with every new entry. */
const LIVE_PAGES = 4;

/** Entries of one type, page after page. */
export function useEntriesOfType(source: LedgerSource, type: string, order: LedgerOrder) {
  return useInfiniteQuery({
    queryKey: keys.ledger(streamOf(source), { type, order }),
    queryFn: ({ pageParam, signal }) => {
      const cursor = pageParam === null ? {} : { cursor: pageParam };
      return readLedger(source, { limit: PAGE_ENTRIES, order, type, ...cursor }, signal);
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    enabled: ({ state }) => (state.data?.pages.length ?? 0) <= LIVE_PAGES,
  });
}

/** Entries that are told of at once on a route: more than a board has in its life in the house. */
const STORY_ENTRIES = 200;

/** The newest entries, and more of the earlier ones when asked for. */
export function useLedgerTail(source: LedgerSource) {
  return useInfiniteQuery({
    queryKey: keys.ledger(streamOf(source), { tail: true }),
    queryFn: ({ pageParam, signal }) => {
      const cursor = pageParam === null ? {} : { cursor: pageParam };
      return readLedger(source, { limit: STORY_ENTRIES, order: 'desc', ...cursor }, signal);
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    enabled: ({ state }) => (state.data?.pages.length ?? 0) <= LIVE_PAGES,
  });
}

/** Entries that speak of others, that are read of each kind; there are few. */
const LATER_ENTRIES = 200;

/** What later entries say of earlier ones, wherever these stand. */
export function useLaterWords(source: LedgerSource): LaterWords {
  const struck = useSpeakingOfOthers(source, ANNULLED);
  const anew = useSpeakingOfOthers(source, REJUDGED);
  return useMemo(() => laterWords([...(struck.data ?? []), ...(anew.data ?? [])]), [struck.data, anew.data]);
}

function useSpeakingOfOthers(source: LedgerSource, type: string) {
  return useQuery({
    queryKey: keys.ledger(streamOf(source), { later: type }),
    queryFn: async ({ signal }) =>
      (await readLedger(source, { limit: LATER_ENTRIES, order: 'desc', type }, signal)).items,
  });
}

/** Steps of a board that may have a heat to them. */
const HEATING = ['unit.reflowed', 'device.removed', 'site.dressed', 'device.placed', 'site.heated'];
/** The latest of each that are told of. */
export const HEATS_OF_KIND = 200;

/** The entries of a board that may tell of a heat, wherever they stand in its ledger. */
export function useHeatingEntries(source: LedgerSource) {
  return useQueries({
    queries: HEATING.map((what) => {
      const type = `heatbook.${what}.v1`;
      return {
        queryKey: keys.ledger(streamOf(source), { heating: type }),
        queryFn: ({ signal }: { readonly signal: AbortSignal }) =>
          readLedger(source, { limit: HEATS_OF_KIND, order: 'desc', type }, signal),
      };
    }),
    combine: (asked) => ({
      entries: asked.flatMap(({ data }) => data?.items ?? []),
      more: asked.some(({ data }) => data !== undefined && data.nextCursor !== null),
      isPending: asked.some(({ isPending }) => isPending),
      error: asked.find(({ isError }) => isError)?.error ?? null,
    }),
  });
}

/** Holds of one board or device that are told apart: more than any had. */
const HOLDS = 500;

/** Finds the hold that an entry called for. Until the holds are there, and where they cannot be had, it finds none. */
export function useHoldFinder(source: LedgerSource): HoldFinder {
  const { kind, ...names } = source;
  const holds = useQuery({
    queryKey: keys.holds({ ...names, of: kind }),
    queryFn: async () => {
      const query =
        source.kind === 'unit' ? { assembly: source.assembly, serial: source.serial } : { device: source.device };
      return (await dataOf(api.GET('/v1/holds', { params: { query: { ...query, limit: HOLDS } } }))).items;
    },
  });
  return useMemo(() => holdFinder(holds.data ?? []), [holds.data]);
}
