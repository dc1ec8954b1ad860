import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import type { LimitBody } from './limit-words.js';

export type Recheck = Schemas['LimitRecheck'];
export type LimitRecord = Schemas['SetupRevision'] & LimitBody & { readonly recheck: Recheck };

const LIMIT_ROWS = 200;
const REVISION_ROWS = 100;
/** While a recheck runs, or is about to. */
const WATCH_MS = 1000;
/** While one waits for the day on which its limit takes effect. */
const WAIT_MS = 30_000;

/** Every limit, by name, as it was revised last. */
export function useLimits() {
  return useInfiniteQuery({
    queryKey: keys.limits,
    queryFn: ({ pageParam }) => {
      const query = { limit: LIMIT_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/limits', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
  });
}

/** The revisions of a limit, newest first; those that are being gone through are watched. */
export function useLimitRevisions(limit: string) {
  return useQuery({
    queryKey: keys.limit(limit),
    queryFn: () =>
      dataOf(api.GET('/v1/limits/{limit}/revisions', { params: { path: { limit }, query: { limit: REVISION_ROWS } } })),
    refetchInterval: ({ state }) => watchMs((state.data?.items ?? []).map(({ recheck }) => recheck)),
  });
}

function watchMs(rechecks: readonly Recheck[]): number | false {
  const open = rechecks.filter(({ state }) => state === 'running' || state === 'waiting');
  if (open.length === 0) return false;
  const now = Date.now();
  return open.some(({ state, effectiveAt }) => state === 'running' || Date.parse(effectiveAt) <= now + WAIT_MS)
    ? WATCH_MS
    : WAIT_MS;
}

/** The one that governs now: the newest that has taken effect. @param revisions newest first */
export function inForce(revisions: readonly LimitRecord[], nowMs: number): LimitRecord | undefined {
  return revisions.find(({ effectiveFrom }) => effectiveFrom === undefined || Date.parse(effectiveFrom) <= nowMs);
}

const ASSEMBLY_ROWS = 500;
/** Whose an assembly is changes seldom. */
const ASSEMBLIES_FRESH_MS = 10 * 60_000;

/** Whose assemblies are: the first 500 of them by name. */
export function useCustomers() {
  return useQuery({
    queryKey: ['assembly-customers'],
    queryFn: async () => {
      const query = { limit: ASSEMBLY_ROWS };
      const { items } = await dataOf(api.GET('/v1/assemblies', { params: { query } }));
      return new Map(items.map(({ name, customer }) => [name, customer]));
    },
    staleTime: ASSEMBLIES_FRESH_MS,
  });
}
