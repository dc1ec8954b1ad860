import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import type { Instants } from './period.js';

export type DamageRates = Schemas['DamageRates'];
export type DamageRate = DamageRates['rates'][number];

/** Damage by operator, method and station, of work written into the book in a period. */
export function useDamageRates(period: Instants) {
  return useQuery({
    queryKey: keys.damage(period),
    queryFn: () => dataOf(api.GET('/v1/damage-rates', { params: { query: period } })),
    placeholderData: keepPreviousData,
  });
}
