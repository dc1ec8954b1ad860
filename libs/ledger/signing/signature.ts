import { Role } from '../identity/principal.js';
import { Seal } from '../ports/seal.js';

/** A person who has just given their password again, and what they mean by signing. */
export interface Signer {
  /** Of the account. */
  readonly name: string;
  /** As it is to be read in print. */
  readonly printedName: string;
  readonly roles: readonly Role[];
  readonly meaning: string;
}

/** A signature as it stands in a ledger: who, when, what they meant, and the hash of what they signed. */
export interface Signature {
  readonly by: string;
  readonly printedName: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly meaning: string;
  /** Lower-case hex SHA-256 of the canonical form (RFC 8785) of what is signed. */
  readonly contentHash: string;
}

/** @param content what is signed, whole: a change to any of it is another hash */
export function sign(
  seal: Pick<Seal, 'canonical' | 'sha256Hex'>,
  signer: Signer,
  at: string,
  content: object,
): Signature {
  const { name, printedName, meaning } = signer;
  const contentHash = seal.sha256Hex(seal.canonical(content));
  return { by: name, printedName, at, meaning, contentHash };
}
