import type { Schemas } from '../api/client.js';

/** Whether a device has a ledger of its own. One that nobody named has none: what was done to it stands in its board's. */
export function hasOwnLedger({ headHash }: Pick<Schemas['Device'], 'headHash'>): boolean {
  return !/^0+$/.test(headHash);
}
