import { HOUSE_LIMITS } from '../../domain/limits/house-limits.js';
import { SetupStore } from '../ports/setup-store.js';
import { SetupBook } from './setup-book.js';

/** Who enters what a new book begins with. */
export const HOUSE = 'house default';

/** Puts the house defaults into a new book: each limit kind that has no limit of its own name yet. */
export async function enterHouseLimits(store: SetupStore, setup: SetupBook): Promise<void> {
  await setup.catchUp();
  for (const [kind, rule] of HOUSE_LIMITS) {
    if (setup.newest('limit', kind) === undefined) await store.revise('limit', kind, rule, HOUSE);
  }
  await setup.catchUp();
}
