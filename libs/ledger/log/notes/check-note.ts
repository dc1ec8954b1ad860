import { sameBytes } from '../merkle/hashing.js';
import { parseNote } from './signed-note.js';
import { VerifierKey } from './verifier-key.js';

/** Ed25519 (RFC 8032, section 5.1.7). */
export type VerifyEd25519 = (publicKey: Uint8Array, message: Uint8Array, signature: Uint8Array) => Promise<boolean>;

export interface CheckedNote {
  readonly text: string;
  /** The known keys that signed it, at least one. */
  readonly by: readonly VerifierKey[];
}

/**
 * The text of a note that at least one of the known keys signed. Signatures by other keys are passed over; one by a known
 * key that does not fit makes the whole note worthless (C2SP signed-note, Signatures).
 * @returns undefined where it is no note, or is not signed so
 */
export async function checkNote(
  note: string,
  keys: readonly VerifierKey[],
  verifyEd25519: VerifyEd25519,
): Promise<CheckedNote | undefined> {
  const parsed = parseNote(note);
  if (!parsed) return undefined;
  const message = new TextEncoder().encode(parsed.text);
  const by = new Set<VerifierKey>();
  for (const { name, keyId, signature } of parsed.signatures) {
    const key = keys.find((known) => known.name === name && sameBytes(known.keyId, keyId));
    if (!key) continue;
    if (!(await verifyEd25519(key.publicKey, message, signature))) return undefined;
    by.add(key);
  }
  return by.size > 0 ? { text: parsed.text, by: [...by] } : undefined;
}
