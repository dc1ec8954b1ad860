import { Seal } from '../ports/seal.js';
import { Signature, Signer, sign } from './signature.js';

/** A signature with what it is under: `contentHash` can be worked out again from `signed`. */
export interface SignedAct {
  readonly signed: { readonly act: string; readonly [member: string]: unknown };
  readonly signature: Signature;
}

/**
 * Signs an act. What is signed has the act's own content, and who signed when and with what meaning, so that a signature
 * fits no other act, person or moment. Of the person's printed name it has the commitment alone.
 * @param at RFC 3339 UTC
 */
export function signAct(
  seal: Pick<Seal, 'canonical' | 'sha256Hex'>,
  signer: Signer,
  at: string,
  content: { readonly act: string; readonly [member: string]: unknown },
): SignedAct {
  const { name: by, named, meaning } = signer;
  const signed = { ...content, by, named, meaning, at };
  return { signed, signature: sign(seal, signer, at, signed) };
}
