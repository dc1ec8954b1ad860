import { ADMIN_ACCOUNT } from './account.js';
import { Clock } from '../ports/clock.js';
import { LedgerSearch } from '../ports/ledger-search.js';
import { Person, PersonStore } from '../ports/person-store.js';
import { Seal } from '../ports/seal.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';

export interface ErasePerson {
  /** Of the account. */
  readonly name: string;
  /** Why, and who asked for it. */
  readonly note: string;
  readonly signer: Signer;
}

export interface Erasure {
  readonly person: Person;
  /** Entries of ledgers that have the name itself, from before there were commitments: nothing can take it out of them. */
  readonly signedInClear: number;
}

interface ErasureDeps {
  readonly people: Pick<PersonStore, 'erase'>;
  readonly search: Pick<LedgerSearch, 'signedInClear'>;
  readonly seal: Pick<Seal, 'canonical' | 'sha256Hex'>;
  readonly clock: Clock;
}

/**
 * Erases the printed name of an account for good and disables it. What the account signed stays signed: ledgers hold
 * commitments to the name, which nobody can open any more. Asked for again it changes nothing.
 * @returns `own` where somebody would erase themselves: one who can still answer for it has to. `way-in` for the account
 * that must always be there, and is nobody's own
 */
export async function erasePerson(
  { people, search, seal, clock }: ErasureDeps,
  { name, note, signer }: ErasePerson,
): Promise<Erasure | 'own' | 'way-in' | 'not-found'> {
  if (name === ADMIN_ACCOUNT) return 'way-in';
  if (name === signer.name) return 'own';
  const at = clock.now();
  const signed = signAct(seal, signer, at, { act: 'erase-person', person: name, note });
  const person = await people.erase(name, { note, ...signed }, { by: signer.name, at });
  if (person === undefined) return 'not-found';
  return { person, signedInClear: await search.signedInClear(name) };
}
