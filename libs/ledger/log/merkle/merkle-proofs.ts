import { nodeHash, Sha256 } from './hashing.js';
import { LeafRange, splitOf, SubtreeReader, subtreesOf } from './subtrees.js';

/**
 * Root of the log when it had `size` leaves (RFC 6962, section 2.1); of an empty one the SHA-256 of nothing.
 * @throws RangeError unless `size` is a whole number from 0
 */
export async function rootAt(sha256: Sha256, read: SubtreeReader, size: number): Promise<Uint8Array> {
  requireCount(size, 'The size of the log');
  if (size === 0) return sha256(new Uint8Array(0));
  const [root] = await hashesOf(sha256, read, [{ start: 0, end: size }]);
  return wanted(root);
}

/**
 * The audit path of leaf `index` in the log of `size` leaves, from the leaf up (RFC 6962, section 2.1.1).
 * @throws RangeError unless 0 <= index < size
 */
export async function inclusionPath(
  sha256: Sha256,
  read: SubtreeReader,
  index: number,
  size: number,
): Promise<Uint8Array[]> {
  requireCount(size, 'The size of the log');
  requireCount(index, 'The number of a leaf');
  if (index >= size) throw new RangeError(`A log of ${size} leaves has no leaf ${index}: its last is ${size - 1}.`);
  const beside: LeafRange[] = [];
  let [start, end] = [0, size];
  while (end - start > 1) {
    const middle = start + splitOf(end - start);
    if (index < middle) {
      beside.unshift({ start: middle, end });
      end = middle;
    } else {
      beside.unshift({ start, end: middle });
      start = middle;
    }
  }
  return hashesOf(sha256, read, beside);
}

/**
 * That the log of `from` leaves is the beginning of the log of `to` (RFC 6962, section 2.1.2). Empty where both are the
 * same, and from an empty log, of which every log is a continuation.
 * @throws RangeError unless 0 <= from <= to
 */
export async function consistencyPath(
  sha256: Sha256,
  read: SubtreeReader,
  from: number,
  to: number,
): Promise<Uint8Array[]> {
  requireCount(from, 'The size of the older log');
  requireCount(to, 'The size of the newer log');
  if (from > to) throw new RangeError(`A log of ${to} leaves does not continue one of ${from}: swap them.`);
  return from === 0 || from === to ? [] : hashesOf(sha256, read, consistencyRanges(from, to));
}

function consistencyRanges(from: number, to: number): LeafRange[] {
  const ranges: LeafRange[] = [];
  let [start, end, known] = [0, to, true];
  while (end !== from) {
    const middle = start + splitOf(end - start);
    if (from <= middle) {
      ranges.unshift({ start: middle, end });
      end = middle;
    } else {
      ranges.unshift({ start, end: middle });
      start = middle;
      known = false;
    }
  }
  // The subtree that ends where the older log ended; left out where it is the older log itself, whose root is known.
  return known ? ranges : [{ start, end }, ...ranges];
}

/** Hash of each range, read from the store in one go. */
async function hashesOf(sha256: Sha256, read: SubtreeReader, ranges: readonly LeafRange[]): Promise<Uint8Array[]> {
  const parts = ranges.map(subtreesOf);
  const hashes = await read(parts.flat());
  if (hashes.length !== parts.flat().length) {
    throw new Error(`The log has ${hashes.length} of ${parts.flat().length} hashes: it was read before it was stored.`);
  }
  let next = 0;
  return parts.map((places) => {
    const own = hashes.slice(next, (next += places.length));
    return wanted(own.reduceRight<Uint8Array | undefined>((right, left) => joined(sha256, left, right), undefined));
  });
}

function joined(sha256: Sha256, left: Uint8Array, right: Uint8Array | undefined): Uint8Array {
  return right === undefined ? left : nodeHash(sha256, left, right);
}

function wanted(hash: Uint8Array | undefined): Uint8Array {
  if (hash === undefined) throw new RangeError('A range of leaves is not empty.');
  return hash;
}

function requireCount(count: number, what: string): void {
  if (!Number.isSafeInteger(count) || count < 0)
    throw new RangeError(`${what} is a whole number from 0, not ${count}.`);
}
