import { ReadStore } from './read-store.js';

/** How connections of the house itself are marked. No customer may be called so. */
export const THE_HOUSE = '*';

/** The store cannot vouch that a customer would see nothing of others, so that it shows no customer anything. */
export class CustomersUnconfined extends Error {
  override readonly name = 'CustomersUnconfined';
}

/** The read side for customers. */
export interface CustomerReads {
  /**
   * What belongs to a customer now: units of assemblies that name them, ledgers and inbox of these, holds that came to
   * light on them, and the devices aboard, without the devices' own ledgers. Everything else is as unknown as what never
   * was; a customer without a name, or with one that no customer can have (`*`), sees nothing.
   * @throws CustomersUnconfined
   */
  of(customer: string): ReadStore;
}
