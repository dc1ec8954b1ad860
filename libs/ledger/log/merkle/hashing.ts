/** SHA-256 (FIPS 180-4). @returns 32 bytes */
export type Sha256 = (bytes: Uint8Array) => Uint8Array;

/** Bytes of a SHA-256. */
export const HASH_BYTES = 32;

/** Longest proof that is read: a tree of more than 2^53 leaves, which numbers cannot count, would need a longer one. */
export const MAX_PATH = 64;

const LEAF = 0;
const NODE = 1;

/** Hash of a leaf: SHA-256 of 0x00 and its data (RFC 6962, section 2.1). */
export function leafHash(sha256: Sha256, data: Uint8Array): Uint8Array {
  const input = new Uint8Array(1 + data.length);
  input[0] = LEAF;
  input.set(data, 1);
  return sha256(input);
}

/** Hash over two subtrees: SHA-256 of 0x01 and both (RFC 6962, section 2.1). */
export function nodeHash(sha256: Sha256, left: Uint8Array, right: Uint8Array): Uint8Array {
  const input = new Uint8Array(1 + left.length + right.length);
  input[0] = NODE;
  input.set(left, 1);
  input.set(right, 1 + left.length);
  return sha256(input);
}

/** Whether two byte strings are the same. Nothing here is secret: it need not take the same time for all. */
export function sameBytes(left: Uint8Array, right: Uint8Array): boolean {
  return left.length === right.length && left.every((byte, index) => byte === right[index]);
}
