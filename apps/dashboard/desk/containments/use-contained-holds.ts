import { useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';

/** Open holds beyond these are left to their own pages. */
const MOST = 500;

/** How the holds of a containment stand. */
export interface ContainedHolds {
  /** How many are open. */
  readonly open: number;
  /** Those that are open, by id. */
  readonly byId: ReadonlyMap<string, Schemas['Hold']>;
  /** Whether these are all that are open: then a hold that is not among them has ended. */
  readonly isAll: boolean;
}

/** The open holds of a containment, followed live. Undefined until they are there. */
export function useContainedHolds(id: string): ContainedHolds | undefined {
  const filter = { containment: id, state: 'open' as const };
  const holds = useQuery({
    queryKey: keys.holds({ ...filter, limit: MOST }),
    queryFn: () => dataOf(api.GET('/v1/holds', { params: { query: { ...filter, limit: MOST } } })),
  });
  const summary = useQuery({
    queryKey: keys.holdSummary(filter),
    queryFn: () => dataOf(api.GET('/v1/holds/summary', { params: { query: filter } })),
  });
  if (holds.data === undefined || summary.data === undefined) return undefined;
  return {
    open: summary.data.open,
    byId: new Map(holds.data.items.map((hold) => [hold.id, hold])),
    isAll: holds.data.nextCursor === null,
  };
}
