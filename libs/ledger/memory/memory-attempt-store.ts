import { Attempts } from '../identity/back-off.js';
import { AttemptStore, Tried } from '../ports/attempt-store.js';
import { IdentityTables } from './identity-tables.js';
import { roundTrip } from './round-trip.js';

/** Wrong passwords in the memory of this process. */
export class MemoryAttemptStore implements AttemptStore {
  readonly #tables: IdentityTables;
  readonly #lastInTurn = new Map<string, Promise<unknown>>();

  constructor(tables: IdentityTables) {
    this.#tables = tables;
  }

  async of(name: string): Promise<Attempts | undefined> {
    await roundTrip();
    return this.#tables.attempts.get(name);
  }

  inTurn<T>(name: string, attempt: (before: Attempts | undefined) => Promise<Tried<T>>): Promise<T> {
    const before = this.#lastInTurn.get(name) ?? Promise.resolve();
    const own = before.then(async () => {
      const { keep, result } = await attempt(this.#tables.attempts.get(name));
      if (keep === undefined) this.#tables.attempts.delete(name);
      else this.#tables.attempts.set(name, { ...keep });
      return result;
    });
    const over = own.catch(() => undefined);
    this.#lastInTurn.set(name, over);
    return own;
  }
}
