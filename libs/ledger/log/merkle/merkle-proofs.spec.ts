import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { fromHex, toHex } from '../notes/hex.js';
import { isConsistent, rootFromInclusion } from './check-proofs.js';
import { leafHash } from './hashing.js';
import { readerOf } from './leaf-tree.js';
import { consistencyPath, inclusionPath, rootAt } from './merkle-proofs.js';
import { splitOf, SubtreePlace, subtreesOf } from './subtrees.js';

const sha256 = (bytes: Uint8Array): Uint8Array => createHash('sha256').update(bytes).digest();

/** Leaves, roots and hashes of subtrees as github.com/transparency-dev/merkle has them (testonly/constants.go). */
const INPUTS = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f'];
const ROOTS = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];
const SUBTREES: [level: number, index: number, hash: string][] = [
  [0, 1, '96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7'],
  [0, 2, '0298d122906dcfc10892cb53a73992fc5b9f493ea4c9badb27b791b4127a7fe7'],
  [0, 4, 'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b'],
  [1, 1, '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e'],
  [1, 2, '0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a'],
  [1, 3, 'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0'],
  [2, 0, 'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7'],
  [2, 1, '6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4'],
];
/** Of the same tree, as the certificate-transparency project tested its verifier; each follows from sections 2.1.1, 2.1.2. */
const INCLUSION: [index: number, size: number, path: [level: number, index: number][]][] = [
  [0, 1, []],
  // prettier-ignore
  [0, 8, [[0, 1], [1, 1], [2, 1]]],
  // prettier-ignore
  [5, 8, [[0, 4], [1, 3], [2, 0]]],
  // prettier-ignore
  [2, 3, [[1, 0]]],
];
const CONSISTENCY: [from: number, to: number, path: [level: number, index: number][]][] = [
  [1, 1, []],
  // prettier-ignore
  [1, 8, [[0, 1], [1, 1], [2, 1]]],
  // prettier-ignore
  [6, 8, [[1, 2], [1, 3], [2, 0]]],
  // prettier-ignore
  [2, 5, [[1, 1], [0, 4]]],
];

const published = INPUTS.map((input) => leafHash(sha256, Buffer.from(input, 'hex')));
const publishedTree = readerOf(sha256, published);

/** MTH(D[n]) of RFC 6962, section 2.1, word by word, over hashes of leaves. */
function mth(leaves: readonly Uint8Array[]): Uint8Array {
  const [only] = leaves;
  if (only === undefined) return sha256(Buffer.alloc(0));
  if (leaves.length === 1) return only;
  const k = largestPowerBelow(leaves.length);
  return sha256(Buffer.concat([Buffer.of(1), mth(leaves.slice(0, k)), mth(leaves.slice(k))]));
}

/** PATH(m, D[n]) of section 2.1.1. */
function naivePath(m: number, leaves: readonly Uint8Array[]): Uint8Array[] {
  if (leaves.length === 1) return [];
  const k = largestPowerBelow(leaves.length);
  const [left, right] = [leaves.slice(0, k), leaves.slice(k)];
  return m < k ? [...naivePath(m, left), mth(right)] : [...naivePath(m - k, right), mth(left)];
}

/** SUBPROOF(m, D[n], b) of section 2.1.2; PROOF(m, D[n]) is that with true. */
function subproof(m: number, leaves: readonly Uint8Array[], complete: boolean): Uint8Array[] {
  if (m === leaves.length) return complete ? [] : [mth(leaves)];
  const k = largestPowerBelow(leaves.length);
  const [left, right] = [leaves.slice(0, k), leaves.slice(k)];
  return m <= k ? [...subproof(m, left, complete), mth(right)] : [...subproof(m - k, right, false), mth(left)];
}

function largestPowerBelow(n: number): number {
  return [...Array(31).keys()].map((exponent) => 2 ** exponent).findLast((power) => power < n) ?? 0;
}

function leavesOf(count: number, salt: number): Uint8Array[] {
  return Array.from({ length: count }, (_, at) => leafHash(sha256, Buffer.from(`${salt}/${at}`)));
}

const hexes = (hashes: readonly Uint8Array[]) => hashes.map(toHex);

describe('the log as published vectors', () => {
  it.each(ROOTS.map((root, size) => [size, root] as const))('has with %i leaves the root %s', async (size, root) => {
    expect(toHex(await rootAt(sha256, publishedTree, size))).toBe(root);
  });

  it.each(SUBTREES)('has at level %i, place %i, the hash %s', async (level, index, hash) => {
    expect(hexes(await publishedTree([{ level, index }]))).toEqual([hash]);
  });

  it.each(INCLUSION)('proves leaf %i of %i', async (index, size, places) => {
    const path = await inclusionPath(sha256, publishedTree, index, size);
    expect(path).toEqual(await publishedTree(places.map(([level, at]) => ({ level, index: at }))));
  });

  it.each(CONSISTENCY)('proves that %i leaves begin %i', async (from, to, places) => {
    const path = await consistencyPath(sha256, publishedTree, from, to);
    expect(path).toEqual(await publishedTree(places.map(([level, at]) => ({ level, index: at }))));
  });
});

describe('the log against the definitions of RFC 6962', () => {
  const sizes = fc.integer({ min: 1, max: 200 });

  it('has the same roots', async () => {
    await fc.assert(
      fc.asyncProperty(sizes, fc.nat(), fc.nat(), async (count, salt, cut) => {
        const leaves = leavesOf(count, salt);
        const size = cut % (count + 1);
        const root = await rootAt(sha256, readerOf(sha256, leaves), size);
        expect(toHex(root)).toBe(toHex(mth(leaves.slice(0, size))));
      }),
    );
  });

  it('has the same audit paths, and they lead to the root', async () => {
    await fc.assert(
      fc.asyncProperty(sizes, fc.nat(), fc.nat(), fc.nat(), async (count, salt, cut, which) => {
        const leaves = leavesOf(count, salt);
        const size = 1 + (cut % count);
        const index = which % size;
        const path = await inclusionPath(sha256, readerOf(sha256, leaves), index, size);
        const tree = leaves.slice(0, size);
        expect(hexes(path)).toEqual(hexes(naivePath(index, tree)));
        const leaf = leaves[index] ?? new Uint8Array();
        expect(rootFromInclusion(sha256, { index, size, leaf, path })).toEqual(mth(tree));
      }),
    );
  });

  it('has the same consistency paths, and they hold', async () => {
    await fc.assert(
      fc.asyncProperty(sizes, fc.nat(), fc.nat(), fc.nat(), async (count, salt, cut, older) => {
        const leaves = leavesOf(count, salt);
        const to = 1 + (cut % count);
        const from = older % (to + 1);
        const path = await consistencyPath(sha256, readerOf(sha256, leaves), from, to);
        if (from > 0) expect(hexes(path)).toEqual(hexes(subproof(from, leaves.slice(0, to), true)));
        const [fromRoot, toRoot] = [mth(leaves.slice(0, from)), mth(leaves.slice(0, to))];
        expect(isConsistent(sha256, { from, to, fromRoot, toRoot, path })).toBe(true);
      }),
    );
  });

  it('refuses a proof that was altered, put in another order, cut or lengthened', async () => {
    const leaves = leavesOf(100, 1);
    const read = readerOf(sha256, leaves);
    await fc.assert(
      fc.asyncProperty(fc.nat(98), fc.nat(98), fc.nat(31), fc.nat(), async (index, fromLess, byte, which) => {
        const leaf = leaves[index] ?? new Uint8Array();
        const root = mth(leaves);
        const path = await inclusionPath(sha256, read, index, 100);
        for (const wrong of spoilt(path, which, byte)) {
          expect(rootFromInclusion(sha256, { index, size: 100, leaf, path: wrong })).not.toEqual(root);
        }
        const from = 1 + fromLess;
        const proof = await consistencyPath(sha256, read, from, 100);
        const fromRoot = mth(leaves.slice(0, from));
        for (const wrong of spoilt(proof, which, byte)) {
          expect(isConsistent(sha256, { from, to: 100, fromRoot, toRoot: root, path: wrong })).toBe(false);
        }
      }),
    );
  });
});

function spoilt(path: readonly Uint8Array[], which: number, byte: number): Uint8Array[][] {
  const at = which % path.length;
  const next = (at + 1) % path.length;
  const altered = path.map((hash, place) => (place === at ? hash.map((b, i) => (i === byte ? b ^ 1 : b)) : hash));
  const swapped = path.map((hash, place) => path[place === at ? next : place === next ? at : place] ?? hash);
  const lengthened = [...path, path[at] ?? new Uint8Array(32)];
  return [altered, path.slice(0, -1), path.slice(1), lengthened, ...(path.length > 1 ? [swapped] : [])];
}

describe('proofs of a log', () => {
  const read = publishedTree;
  const [leaf = new Uint8Array()] = published;
  const root = fromHex(ROOTS[8] ?? '') ?? new Uint8Array();

  it('are made only of leaves that it has', async () => {
    await expect(inclusionPath(sha256, read, 8, 8)).rejects.toThrow('its last is 7');
    await expect(inclusionPath(sha256, read, -1, 8)).rejects.toThrow(RangeError);
    await expect(inclusionPath(sha256, read, 0.5, 8)).rejects.toThrow(RangeError);
    await expect(consistencyPath(sha256, read, 8, 7)).rejects.toThrow('swap them');
    await expect(rootAt(sha256, read, Infinity)).rejects.toThrow(RangeError);
    await expect(rootAt(sha256, read, 9)).rejects.toThrow('No subtree');
    await expect(rootAt(sha256, () => Promise.resolve([]), 3)).rejects.toThrow('0 of 2 hashes');
  });

  it('are asked for in one go, as perfect subtrees', async () => {
    const asked: (readonly SubtreePlace[])[] = [];
    await inclusionPath(
      sha256,
      (places) => {
        asked.push(places);
        return read(places);
      },
      0,
      7,
    );
    // prettier-ignore
    expect(asked).toEqual([[{ level: 0, index: 1 }, { level: 1, index: 1 }, { level: 1, index: 2 }, { level: 0, index: 6 }]]);
  });

  it('are split without rounding in logs that 32 bits cannot count', () => {
    const size = Number.MAX_SAFE_INTEGER;
    expect(splitOf(size)).toBe(2 ** 52);
    expect(splitOf(2 ** 52)).toBe(2 ** 51);
    expect(subtreesOf({ start: 2 ** 40, end: 2 ** 40 + 5 })).toEqual([
      { level: 2, index: 2 ** 38 },
      { level: 0, index: 2 ** 40 + 4 },
    ]);
    expect(subtreesOf({ start: 0, end: size })).toHaveLength(53);
    const path = Array.from({ length: 53 }, () => leaf);
    expect(rootFromInclusion(sha256, { index: 0, size, leaf, path })).toBeDefined();
    expect(rootFromInclusion(sha256, { index: 0, size, leaf, path: path.slice(1) })).toBeUndefined();
  });

  it('say nothing where numbers or hashes are none', () => {
    const wrong = [
      { index: -1, size: 8, leaf, path: [leaf] },
      { index: 8, size: 8, leaf, path: [leaf] },
      { index: 0, size: 2 ** 53, leaf, path: [leaf] },
      { index: 0.5, size: 8, leaf, path: [leaf] },
      { index: 0, size: 1, leaf: leaf.slice(1), path: [] },
      { index: 0, size: 2, leaf, path: [leaf.slice(1)] },
      { index: 0, size: 2, leaf, path: Array.from({ length: 65 }, () => leaf) },
    ];
    for (const claim of wrong) expect(rootFromInclusion(sha256, claim)).toBeUndefined();
    const claim = { from: 8, to: 8, fromRoot: root, toRoot: root, path: [] };
    expect(isConsistent(sha256, claim)).toBe(true);
    expect(isConsistent(sha256, { ...claim, path: [root] })).toBe(false);
    expect(isConsistent(sha256, { ...claim, from: 9 })).toBe(false);
    expect(isConsistent(sha256, { ...claim, from: NaN })).toBe(false);
    expect(isConsistent(sha256, { ...claim, from: 0 })).toBe(false);
    expect(isConsistent(sha256, { ...claim, from: 4 })).toBe(false);
    expect(isConsistent(sha256, { ...claim, from: 0, fromRoot: sha256(new Uint8Array()) })).toBe(true);
    expect(isConsistent(sha256, { ...claim, fromRoot: leaf })).toBe(false);
    expect(isConsistent(sha256, { ...claim, fromRoot: root.slice(1), toRoot: root.slice(1) })).toBe(false);
  });
});
