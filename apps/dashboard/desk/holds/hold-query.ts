import { type QueryClient, useQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';

/** A hold with all that explains it, renewed as the stream tells of it. */
export function useHold(id: string) {
  return useQuery({
    queryKey: keys.hold(id),
    queryFn: () => dataOf(api.GET('/v1/holds/{id}', { params: { path: { id } } })),
  });
}

/** Asks anew for a hold and for what tells of it: after an act of one's own nobody waits for the stream. */
export async function renewHold(queries: QueryClient, id: string): Promise<void> {
  const told = [keys.hold(id), ['holds'], ['hold-summary'], ['ledger']];
  await Promise.all(told.map((queryKey) => queries.invalidateQueries({ queryKey })));
}
