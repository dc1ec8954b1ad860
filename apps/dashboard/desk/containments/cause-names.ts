import { useQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import type { CauseKind } from './cause-wish.js';

const MOST = 500;
const query = { limit: MOST };

/** What the setup names of each kind; devices and lots are not of the setup, and are scanned. */
const LISTS: Partial<
  Readonly<Record<CauseKind, () => Promise<{ readonly items: readonly { readonly name: string }[] }>>>
> = {
  station: () => dataOf(api.GET('/v1/stations', { params: { query } })),
  operator: () => dataOf(api.GET('/v1/operators', { params: { query } })),
  profile: () => dataOf(api.GET('/v1/profiles', { params: { query } })),
  part: () => dataOf(api.GET('/v1/parts', { params: { query } })),
  limit: () => dataOf(api.GET('/v1/limits', { params: { query } })),
};

/** Names to offer for a kind of cause, as far as the setup has them; any other may be typed. */
export function useCauseNames(kind: CauseKind): readonly string[] {
  const list = LISTS[kind];
  const names = useQuery({
    queryKey: [...keys.containments, 'names', kind],
    queryFn: async () => (list === undefined ? [] : (await list()).items.map(({ name }) => name)),
    staleTime: Infinity,
  });
  return names.data ?? [];
}
