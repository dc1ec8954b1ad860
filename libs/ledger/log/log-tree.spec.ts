import fc from 'fast-check';
import { nodeDigests } from '../../evidence/node-digests.js';
import { LogNode, SUBTREE_STEP } from '../ports/log-store.js';
import { completedNodes } from './completed-nodes.js';
import { GrowingRoot } from './growing-root.js';
import { readerOf } from './merkle/leaf-tree.js';
import { inclusionPath, rootAt } from './merkle/merkle-proofs.js';
import { toHex } from './notes/hex.js';
import { entryLeaf, storedSubtrees } from './stored-subtrees.js';

const { sha256 } = nodeDigests;

function hashOf(n: number): string {
  return toHex(sha256(`entry ${n}`));
}

/** A log that keeps what it is given and nothing else, grown batch by batch. */
async function grown(batches: readonly number[]) {
  const hashes: string[] = [];
  const nodes = new Map<string, Uint8Array>();
  const log = {
    leavesAt: (indexes: readonly number[]) =>
      Promise.resolve(indexes.map((index) => ({ index, subject: 'A/1', seq: index + 1, hash: hashes[index] ?? '' }))),
    nodes: (places: readonly { level: number; index: number }[]) =>
      Promise.resolve(places.map(({ level, index }) => nodes.get(`${level} ${index}`) ?? new Uint8Array(0))),
  };
  const made: LogNode[] = [];
  for (const count of batches) {
    const added = Array.from({ length: count }, (_, n) => hashOf(hashes.length + n));
    const leaves = added.map((hash) => entryLeaf(sha256, hash));
    const fresh = await completedNodes(sha256, storedSubtrees(sha256, log), hashes.length, leaves);
    hashes.push(...added);
    for (const { level, index, hash } of fresh) nodes.set(`${level} ${index}`, hash);
    made.push(...fresh);
  }
  return { log, hashes, made };
}

describe('a tree of which every fourth level is kept', () => {
  it('has at each size the roots and paths of the tree over all its leaves, whatever the batches', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 0, max: 90 }), { minLength: 1, maxLength: 8 }), async (batches) => {
        const { log, hashes } = await grown(batches);
        const kept = storedSubtrees(sha256, log);
        const whole = readerOf(
          sha256,
          hashes.map((hash) => entryLeaf(sha256, hash)),
        );
        for (const size of [0, 1, 2, 15, 16, 17, 255, 256, 257, hashes.length].filter((n) => n <= hashes.length)) {
          expect(await rootAt(sha256, kept, size)).toEqual(await rootAt(sha256, whole, size));
          const index = Math.floor(size / 2);
          if (size > 0) {
            expect(await inclusionPath(sha256, kept, index, size)).toEqual(
              await inclusionPath(sha256, whole, index, size),
            );
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it('keeps each node once, when its last leaf has come', async () => {
    const { made } = await grown([15, 1, 239, 1, 300]);
    const places = made.map(({ level, index }) => `${level} ${index}`);
    expect(new Set(places).size).toBe(places.length);
    expect(made.filter(({ level }) => level === SUBTREE_STEP)).toHaveLength(Math.floor(556 / 16));
    expect(made.filter(({ level }) => level === 2 * SUBTREE_STEP)).toHaveLength(Math.floor(556 / 256));
  });

  it('says so where the database lost a leaf', async () => {
    const { log } = await grown([20]);
    const torn = { ...log, leavesAt: () => Promise.resolve([]) };
    await expect(rootAt(sha256, storedSubtrees(sha256, torn), 19)).rejects.toThrow('lost a part');
  });
});

describe('a root that grows leaf by leaf', () => {
  it('is that of the tree over the same leaves', async () => {
    const { hashes } = await grown([70]);
    const leaves = hashes.map((hash) => entryLeaf(sha256, hash));
    const growing = new GrowingRoot(sha256);
    for (const [n, leaf] of leaves.entries()) {
      expect(growing.root()).toEqual(await rootAt(sha256, readerOf(sha256, leaves.slice(0, n)), n));
      growing.add(leaf);
    }
    expect(growing.size).toBe(70);
  });
});
