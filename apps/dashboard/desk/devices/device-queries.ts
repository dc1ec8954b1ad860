import { useQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';

/** As many entries as a device's places are read from; a device lives through far fewer. */
const MOST_ENTRIES = 200;

/** The first entries of a device's ledger, the oldest first. */
export function useDeviceStory(device: string) {
  const query = { order: 'asc', limit: MOST_ENTRIES } as const;
  return useQuery({
    queryKey: keys.ledger(`devices/${device}`, query),
    queryFn: () => dataOf(api.GET('/v1/devices/{device}/ledger', { params: { path: { device }, query } })),
  });
}
