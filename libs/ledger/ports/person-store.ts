import { AccountData } from '../identity/account.js';
import { SignedAct } from '../signing/sign-act.js';
import { Page, PageRequest } from './read-store.js';

export interface Person extends AccountData {
  /** Names the account, for ever. */
  readonly name: string;
  /** Commitment to the printed name; drawn anew whenever that is set. */
  readonly named: string;
  /** When the printed name was erased, RFC 3339 UTC; `printedName` is a pseudonym then, and nothing changes any more. */
  readonly erasedAt: string | null;
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
  readonly what: 'created' | 'revised' | 'password-changed' | 'erased';
  /**
   * The account as it was from then on, without anything of its password. The record has the commitment to the printed name
   * alone; the name is looked up where it is kept, and is a pseudonym once it was erased.
   */
  readonly account: AccountData & Pick<Person, 'named' | 'erasedAt'>;
  /** What was signed, of an erasure; null of everything else. */
  readonly act: ErasureAct | null;
}

/** Why a printed name was erased, and who signed for it. */
export interface ErasureAct extends SignedAct {
  readonly note: string;
}

/** The printed name of the account was erased: nobody can be given the account again. */
export class PersonErased extends Error {
  override readonly name = 'PersonErased';
}

/** Keeps accounts. Every change is on record with who and when; nothing but printed names is ever removed. */
export interface PersonStore {
  /** @returns false where the name is taken; nothing is kept then. */
  add(name: string, account: AccountData, passwordHash: string, stamp: Stamp): Promise<boolean>;
  /**
   * Replaces what is said of a person. Where roles, customer or disabling change, the person's sessions end with it.
   * The same account again is no change.
   * @throws PersonErased
   */
  revise(name: string, account: AccountData, stamp: Stamp): Promise<Person | undefined>;
  /**
   * Sets the password, ends the person's sessions and forgets wrong passwords.
   * @returns false where there is no such person.
   * @throws PersonErased
   */
  setPassword(name: string, passwordHash: string, stamp: Stamp): Promise<boolean>;
  /**
   * Removes every printed name that the account has had, with its salt; disables it, ends its sessions and makes its password
   * nobody's. The account stays, under a pseudonym. Once more is no change.
   */
  erase(name: string, act: ErasureAct, stamp: Stamp): Promise<Person | undefined>;
  find(name: string): Promise<Person | undefined>;
  /** By name. */
  list(page: PageRequest): Promise<Page<Person>>;
  /** Of one person, oldest first. */
  changes(name: string, page: PageRequest): Promise<Page<PersonChange>>;
}
