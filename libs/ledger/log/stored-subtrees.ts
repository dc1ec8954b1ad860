import { LogReads, SUBTREE_STEP } from '../ports/log-store.js';
import { leafHash, nodeHash, Sha256 } from './merkle/hashing.js';
import { SubtreePlace, SubtreeReader } from './merkle/subtrees.js';
import { fromHex } from './notes/hex.js';

/** The leaf that an entry is in the tree, by its hash in lower-case hex. @throws Error for what is no hash */
export function entryLeaf(sha256: Sha256, hash: string): Uint8Array {
  const bytes = fromHex(hash, 32);
  if (bytes === undefined) throw new Error(`"${hash}" is no SHA-256 in lower-case hex.`);
  return leafHash(sha256, bytes);
}

/**
 * Perfect subtrees of the log. Only every fourth level is kept; one between is hashed from the 2, 4 or 8 subtrees below
 * it that are, and the lowest from leaves. A proof so takes two statements, and some 4 rows for each of its hashes.
 */
export function storedSubtrees(sha256: Sha256, log: Pick<LogReads, 'leavesAt' | 'nodes'>): SubtreeReader {
  return async (places) => {
    const bases = places.map(baseOf);
    const below = bases.map(rowsUnder);
    const hashes = new Map([
      ...(await leafHashes(sha256, log, below.flat())),
      ...(await nodeHashes(log, below.flat())),
    ]);
    return below.map((rows) =>
      rootOfPerfect(
        sha256,
        rows.map((row) => wanted(hashes, row)),
      ),
    );
  };
}

/** Root of a perfect subtree over these hashes, a power of two of them. */
export function rootOfPerfect(sha256: Sha256, hashes: readonly Uint8Array[]): Uint8Array {
  let level = hashes;
  while (level.length > 1) {
    const above: Uint8Array[] = [];
    for (let at = 0; at + 1 < level.length; at += 2) {
      const [left, right] = level.slice(at, at + 2);
      if (left !== undefined && right !== undefined) above.push(nodeHash(sha256, left, right));
    }
    level = above;
  }
  const [root] = level;
  if (root === undefined) throw new RangeError('A subtree has at least one leaf.');
  return root;
}

/** The kept level at or below a place, and how many of its subtrees the place is made of. */
function baseOf({ level, index }: SubtreePlace): { level: number; first: number; count: number } {
  const up = level % SUBTREE_STEP;
  const count = 2 ** up;
  return { level: level - up, first: index * count, count };
}

function rowsUnder({ level, first, count }: ReturnType<typeof baseOf>): SubtreePlace[] {
  return Array.from({ length: count }, (_, n) => ({ level, index: first + n }));
}

async function leafHashes(
  sha256: Sha256,
  log: Pick<LogReads, 'leavesAt'>,
  places: readonly SubtreePlace[],
): Promise<[string, Uint8Array][]> {
  const leaves = await log.leavesAt(places.filter(({ level }) => level === 0).map(({ index }) => index));
  return leaves.map(({ index, hash }) => [keyOf({ level: 0, index }), entryLeaf(sha256, hash)]);
}

async function nodeHashes(
  log: Pick<LogReads, 'nodes'>,
  places: readonly SubtreePlace[],
): Promise<[string, Uint8Array][]> {
  const kept = places.filter(({ level }) => level > 0);
  const hashes = await log.nodes(kept);
  return kept.flatMap((place, n) => {
    const hash = hashes[n];
    return hash === undefined ? [] : [[keyOf(place), hash] as [string, Uint8Array]];
  });
}

function wanted(hashes: ReadonlyMap<string, Uint8Array>, place: SubtreePlace): Uint8Array {
  const hash = hashes.get(keyOf(place));
  if (hash === undefined) throw new Error(`The log has no leaf ${place.index}: the database lost a part of it.`);
  return hash;
}

function keyOf({ level, index }: SubtreePlace): string {
  return `${level} ${index}`;
}
