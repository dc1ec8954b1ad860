import { nodeHash, Sha256 } from './hashing.js';
import { SubtreeReader } from './subtrees.js';

/**
 * The perfect subtrees over leaves that are all in memory, hashed at once; twice as many hashes as leaves are kept.
 * The reader throws a RangeError for a subtree that reaches beyond the last leaf.
 */
export function readerOf(sha256: Sha256, leafHashes: readonly Uint8Array[]): SubtreeReader {
  const levels: (readonly Uint8Array[])[] = [leafHashes];
  for (let below = leafHashes; below.length > 1;) {
    below = parents(sha256, below);
    levels.push(below);
  }
  return (places) =>
    Promise.resolve().then(() =>
      places.map(({ level, index }) => {
        const hash = levels[level]?.[index];
        if (hash === undefined)
          throw new RangeError(`No subtree ${index} at level ${level} of ${leafHashes.length} leaves.`);
        return hash;
      }),
    );
}

function parents(sha256: Sha256, hashes: readonly Uint8Array[]): Uint8Array[] {
  const found: Uint8Array[] = [];
  for (let at = 0; at + 1 < hashes.length; at += 2) {
    const [left, right] = [hashes[at], hashes[at + 1]];
    if (left && right) found.push(nodeHash(sha256, left, right));
  }
  return found;
}
