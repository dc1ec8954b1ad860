import { useQueries } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { useSession } from '../session/session-gate.js';
import { DIMENSIONS, type Dimension } from './desk-bars.js';
import { type DeskFilter, narrowed, queryOf } from './desk-filter.js';

export type HoldSummary = Schemas['HoldSummary'];

/** Counts of the open holds that match. */
export interface DeskCounts {
  /** Of all that match. */
  readonly all: HoldSummary;
  /** Of those that would match without the filter's choice in one dimension, so that the others can be seen beside it. */
  readonly beside: (dimension: Dimension) => HoldSummary;
}

/** Counts what the filter matches: one question, and one more for each dimension that something is picked of. */
export function useDeskCounts(filter: DeskFilter) {
  const { name } = useSession();
  const picked = DIMENSIONS.filter((dimension) => filter[dimension] !== undefined);
  const filters = [filter, ...picked.map((dimension) => narrowed(filter, dimension, undefined))];
  const answers = useQueries({
    queries: filters.map((one) => ({
      // Counts are the same in either order.
      queryKey: keys.holdSummary({ ...one, order: undefined }),
      queryFn: () => askSummary(one, name),
      enabled: filter.state === 'open',
    })),
  });
  const [all, ...others] = answers;
  const counts: DeskCounts | undefined = all?.data && {
    all: all.data,
    beside: (dimension) => others[picked.indexOf(dimension)]?.data ?? all.data,
  };
  return { counts, error: all?.error ?? null };
}

function askSummary(filter: DeskFilter, me: string): Promise<HoldSummary> {
  const query = { ...queryOf(filter, me, Date.now()), order: undefined };
  return dataOf(api.GET('/v1/holds/summary', { params: { query } }));
}
