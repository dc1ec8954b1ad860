import { Role } from '../identity/principal.js';
import { Seal } from '../ports/seal.js';

/** A person who has just given their password again, and what they mean by signing. */
export interface Signer {
  /** Of the account. */
  readonly name: string;
  /** Commitment to the name as it is to be read in print. */
  readonly named: string;
  readonly roles: readonly Role[];
  readonly meaning: string;
}

interface SignatureFacts {
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly meaning: string;
  /** Lower-case hex SHA-256 of the canonical form (RFC 8785) of what is signed. */
  readonly contentHash: string;
}

/**
 * A signature as it is kept: who, when, what they meant, and the hash of what they signed. `named` is the commitment to the
 * printed name, which itself is kept where it can be erased. Ledgers from before there were commitments have the name.
 */
export type Signature = SignatureFacts & ({ readonly named: string } | { readonly printedName: string });

/** @param content what is signed, whole: a change to any of it is another hash */
export function sign(
  seal: Pick<Seal, 'canonical' | 'sha256Hex'>,
  signer: Signer,
  at: string,
  content: object,
): Signature {
  const { name, named, meaning } = signer;
  const contentHash = seal.sha256Hex(seal.canonical(content));
  return { by: name, named, at, meaning, contentHash };
}
