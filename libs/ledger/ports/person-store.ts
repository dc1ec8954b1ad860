import { AccountData } from '../identity/account.js';
import { Page, PageRequest } from './read-store.js';

export interface Person extends AccountData {
  /** Names the account, for ever. */
  readonly name: string;
  /** How often anything about the account has changed, its making included. */
  readonly revision: number;
  /** Argon2id in PHC form. Leaves the process only towards the store. */
  readonly passwordHash: string;
  /** RFC 3339 UTC. */
  readonly createdAt: string;
  /** RFC 3339 UTC. */
  readonly changedAt: string;
}

/** Who changes something, and when. */
export interface Stamp {
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
}

/** One change of an account, as it is on record. */
export interface PersonChange extends Stamp {
  readonly person: string;
  readonly revision: number;
  readonly what: 'created' | 'revised' | 'password-changed';
  /** The account as it was from then on, without anything of its password. */
  readonly account: AccountData;
}

/** Keeps accounts. Every change is on record with who and when; nothing is ever removed. */
export interface PersonStore {
  /** @returns false where the name is taken; nothing is kept then. */
  add(name: string, account: AccountData, passwordHash: string, stamp: Stamp): Promise<boolean>;
  /**
   * Replaces what is said of a person. Where roles, customer or disabling change, the person's sessions end with it.
   * The same account again is no change.
   */
  revise(name: string, account: AccountData, stamp: Stamp): Promise<Person | undefined>;
  /**
   * Sets the password, ends the person's sessions and forgets wrong passwords.
   * @returns false where there is no such person.
   */
  setPassword(name: string, passwordHash: string, stamp: Stamp): Promise<boolean>;
  find(name: string): Promise<Person | undefined>;
  /** By name. */
  list(page: PageRequest): Promise<Page<Person>>;
  /** Of one person, oldest first. */
  changes(name: string, page: PageRequest): Promise<Page<PersonChange>>;
}
