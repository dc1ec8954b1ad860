import { HASH_BYTES, MAX_PATH, nodeHash, sameBytes, Sha256 } from './hashing.js';

/** A claim that a leaf is in a log. */
export interface InclusionClaim {
  readonly index: number;
  readonly size: number;
  /** Hash of the leaf. */
  readonly leaf: Uint8Array;
  readonly path: readonly Uint8Array[];
}

/** A claim that a log continues another. */
export interface ConsistencyClaim {
  readonly from: number;
  readonly to: number;
  readonly fromRoot: Uint8Array;
  readonly toRoot: Uint8Array;
  readonly path: readonly Uint8Array[];
}

/**
 * The root that a leaf and its audit path lead to, for comparison with the one that was signed; undefined where the path
 * cannot be one of that leaf in a log of that size. Follows RFC 9162, section 2.1.3.2, for proofs of RFC 6962, section
 * 2.1.1, which are the same. Throws nothing.
 */
export function rootFromInclusion(sha256: Sha256, claim: InclusionClaim): Uint8Array | undefined {
  const { index, size, leaf, path } = claim;
  if (!isCount(index) || !isCount(size) || index >= size || !areHashes([leaf]) || !isPath(path)) return undefined;
  let [node, last, hash] = [index, size - 1, leaf];
  for (const beside of path) {
    if (last === 0) return undefined;
    if (isOdd(node) || node === last) {
      hash = nodeHash(sha256, beside, hash);
      while (!isOdd(node) && node !== 0) [node, last] = [half(node), half(last)];
    } else {
      hash = nodeHash(sha256, hash, beside);
    }
    [node, last] = [half(node), half(last)];
  }
  return last === 0 ? hash : undefined;
}

/**
 * Whether the log with `toRoot` begins with the one with `fromRoot`. Follows RFC 9162, section 2.1.4.2, for proofs of
 * RFC 6962, section 2.1.2, which are the same; a log continues itself, and the empty one, with an empty path. Throws
 * nothing.
 */
export function isConsistent(sha256: Sha256, claim: ConsistencyClaim): boolean {
  const { from, to, fromRoot, toRoot, path } = claim;
  if (!isCount(from) || !isCount(to) || from > to || !areHashes([fromRoot, toRoot]) || !isPath(path)) return false;
  if (from === to) return path.length === 0 && sameBytes(fromRoot, toRoot);
  if (from === 0) return path.length === 0 && sameBytes(fromRoot, sha256(new Uint8Array(0)));
  const [first, ...rest] = isPowerOfTwo(from) ? [fromRoot, ...path] : path;
  if (first === undefined || path.length === 0) return false;
  let [node, last] = [from - 1, to - 1];
  while (isOdd(node)) [node, last] = [half(node), half(last)];
  let [older, newer] = [first, first];
  for (const beside of rest) {
    if (last === 0) return false;
    if (isOdd(node) || node === last) {
      older = nodeHash(sha256, beside, older);
      newer = nodeHash(sha256, beside, newer);
      while (!isOdd(node) && node !== 0) [node, last] = [half(node), half(last)];
    } else {
      newer = nodeHash(sha256, newer, beside);
    }
    [node, last] = [half(node), half(last)];
  }
  return last === 0 && sameBytes(older, fromRoot) && sameBytes(newer, toRoot);
}

// Sizes go up to 2^53 - 1: bit operations would cut them to 32 bits.
const half = (count: number) => Math.floor(count / 2);
const isOdd = (count: number) => count % 2 === 1;

function isPowerOfTwo(count: number): boolean {
  let rest = count;
  while (rest > 1 && !isOdd(rest)) rest = half(rest);
  return rest === 1;
}

function isCount(count: number): boolean {
  return Number.isSafeInteger(count) && count >= 0;
}

function isPath(path: readonly Uint8Array[]): boolean {
  return path.length <= MAX_PATH && areHashes(path);
}

function areHashes(hashes: readonly Uint8Array[]): boolean {
  return hashes.every((hash) => hash.length === HASH_BYTES);
}
