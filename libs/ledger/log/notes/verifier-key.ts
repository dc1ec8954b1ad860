import { sameBytes, Sha256 } from '../merkle/hashing.js';
import { fromBase64, toBase64 } from './base64.js';
import { fromHex, toHex } from './hex.js';

/** Bytes that name a key in a signature line. */
export const KEY_ID_BYTES = 4;
/** Longest name of a key, in UTF-16 code units. */
const MAX_KEY_NAME = 256;
const PUBLIC_KEY_BYTES = 32;
/** Signature type of Ed25519 (C2SP signed-note, Signature types). */
const ED25519 = 1;
/** Spaces of Unicode, plus, control characters, halves of surrogate pairs. U+0085 is a space that \s leaves out. */
const NOT_IN_NAMES = /[\s\u0085+\p{Cc}\p{Cs}]/u;

/** An Ed25519 key that signs notes. */
export interface VerifierKey {
  /** Of the log: the origin of its checkpoints. */
  readonly name: string;
  readonly keyId: Uint8Array;
  readonly publicKey: Uint8Array;
}

/** Whether a key may be called so (C2SP signed-note, Format): not empty, no white space, no plus; at most 256 characters. */
export function isKeyName(name: string): boolean {
  return name.length > 0 && name.length <= MAX_KEY_NAME && !NOT_IN_NAMES.test(name);
}

/**
 * Reads a verifier key, `{name}+{key id, 8 hex digits}+{base64 of 0x01 and the key}`. Undefined for anything else, and
 * where the key id is not the one of name and key (C2SP signed-note, Ed25519 signatures).
 */
export function parseVerifierKey(vkey: string, sha256: Sha256): VerifierKey | undefined {
  // A plus may stand in the base64 as well.
  const [, name = '', id = '', encoded = ''] = /^([^+]{1,256})\+([0-9a-f]{8})\+([A-Za-z0-9+/]{44})$/.exec(vkey) ?? [];
  const [keyId, typed] = [fromHex(id, KEY_ID_BYTES), fromBase64(encoded)];
  if (!isKeyName(name) || !keyId || typed?.length !== 1 + PUBLIC_KEY_BYTES || typed[0] !== ED25519) return undefined;
  const publicKey = typed.slice(1);
  return sameBytes(keyId, keyIdOf(name, publicKey, sha256)) ? { name, keyId, publicKey } : undefined;
}

/**
 * Writes a verifier key.
 * @throws RangeError for a name that a key may not have, and for a key that has not 32 bytes
 */
export function formatVerifierKey(name: string, publicKey: Uint8Array, sha256: Sha256): string {
  if (!isKeyName(name))
    throw new RangeError(`A key cannot be called "${name}": no white space, no plus, 1 to 256 long.`);
  if (publicKey.length !== PUBLIC_KEY_BYTES)
    throw new RangeError(`An Ed25519 key has 32 bytes, not ${publicKey.length}.`);
  return `${name}+${toHex(keyIdOf(name, publicKey, sha256))}+${toBase64(typedKey(publicKey))}`;
}

function keyIdOf(name: string, publicKey: Uint8Array, sha256: Sha256): Uint8Array {
  const head = new TextEncoder().encode(`${name}\n`);
  const input = new Uint8Array(head.length + 1 + publicKey.length);
  input.set(head);
  input.set(typedKey(publicKey), head.length);
  return sha256(input).slice(0, KEY_ID_BYTES);
}

function typedKey(publicKey: Uint8Array): Uint8Array {
  return Uint8Array.of(ED25519, ...publicKey);
}
