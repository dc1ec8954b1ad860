import { Attempts } from '../identity/back-off.js';

/** What is to be kept of a try, and what it comes to. */
export interface Tried<T> {
  /** undefined: nothing, all failures are forgotten. */
  readonly keep: Attempts | undefined;
  readonly result: T;
}

/** Counts wrong passwords by account, for all processes together, whether or not there is such an account. */
export interface AttemptStore {
  of(name: string): Promise<Attempts | undefined>;
  /** Makes a try while nobody else makes one for that name. Nothing is kept where `attempt` throws. */
  inTurn<T>(name: string, attempt: (before: Attempts | undefined) => Promise<Tried<T>>): Promise<T>;
}
