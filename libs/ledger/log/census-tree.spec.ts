import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { seal } from '../../evidence/seal.js';
import { censusGroupLeaf, censusLedgerLeaf, censusStanding, censusTree } from './census-tree.js';
import { LedgerPlace } from './log-evidence.js';
import { rootFromInclusion } from './merkle/check-proofs.js';
import { leafHash, nodeHash } from './merkle/hashing.js';
import { fromHex, toHex } from './notes/hex.js';

const sha256 = (bytes: Uint8Array): Uint8Array => createHash('sha256').update(bytes).digest();
const hashing = { sha256, canonical: (value: unknown) => seal.canonical(value) };

function place(subject: string, seq: number): LedgerPlace {
  return { subject, seq, hash: seal.sha256Hex(`${subject}/${seq}`) };
}

const leaf = (text: string) => leafHash(sha256, Buffer.from(text));

describe('a census', () => {
  const places = [
    place('DEMO-1/SN-1', 4),
    place('DEMO/SN-1', 2),
    place('DEMO/SN-2', 3),
    place('devices/D-1', 1),
    place('~book', 5),
  ];

  it('is hashed as its description says, worked out by hand', async () => {
    const tree = await censusTree(hashing, places);
    const [a, b] = [seal.sha256Hex('DEMO/SN-1/2'), seal.sha256Hex('DEMO/SN-2/3')];
    const demo = toHex(
      nodeHash(
        sha256,
        leaf(`{"hash":"${a}","seq":2,"subject":"DEMO/SN-1"}`),
        leaf(`{"hash":"${b}","seq":3,"subject":"DEMO/SN-2"}`),
      ),
    );
    expect(tree.branches.map(({ group }) => group)).toMatchObject([
      { group: 'DEMO', ledgers: 2, entries: 5, root: demo },
      { group: 'DEMO-1', ledgers: 1, entries: 4 },
      { group: 'devices', ledgers: 1, entries: 1 },
      { group: '~book', ledgers: 1, entries: 5 },
    ]);
    expect(tree).toMatchObject({ ledgers: 5, entries: 15 });
    const groups = tree.branches.map(({ group }) =>
      leaf(`{"entries":${group.entries},"group":"${group.group}","ledgers":${group.ledgers},"root":"${group.root}"}`),
    );
    const [one, two, three, four] = groups.map((hash) => Buffer.from(hash));
    if (!one || !two || !three || !four) throw new Error('four groups');
    expect(tree.root).toBe(toHex(nodeHash(sha256, nodeHash(sha256, one, two), nodeHash(sha256, three, four))));
  });

  it('shows for each ledger the way to its root, and only for what it has', async () => {
    const subjects = fc.uniqueArray(
      fc.tuple(fc.constantFrom('A', 'A-1', 'B', 'devices'), fc.integer({ min: 1, max: 40 })),
      { selector: String, minLength: 1, maxLength: 60 },
    );
    await fc.assert(
      fc.asyncProperty(subjects, async (names) => {
        const own = names.map(([group, number]) => place(`${group}/${number}`, number));
        own.sort((left, right) => (left.subject < right.subject ? -1 : 1));
        const tree = await censusTree(hashing, own);
        for (const { subject } of own) expect(await leadsTo(tree.root, tree, subject)).toBe(true);
        expect(await censusStanding(hashing, tree, 'C/1')).toBeUndefined();
        expect(await censusStanding(hashing, tree, 'A/999')).toBeUndefined();
      }),
      { numRuns: 30 },
    );
  });

  it('has an empty tree over nothing', async () => {
    expect(await censusTree(hashing, [])).toMatchObject({ ledgers: 0, entries: 0, root: seal.sha256Hex('') });
  });

  it('has another root when one ledger is cut, forked or left out', async () => {
    const { root } = await censusTree(hashing, places);
    const others = [
      places.slice(1),
      places.map((own, at) => (at === 1 ? place(own.subject, own.seq - 1) : own)),
      places.map((own, at) => (at === 4 ? { ...own, hash: seal.sha256Hex('another') } : own)),
    ];
    for (const other of others) expect((await censusTree(hashing, other)).root).not.toBe(root);
  });

  it('wants its ledgers in order, each once', async () => {
    await expect(censusTree(hashing, places.toReversed())).rejects.toThrow('in order, each once');
    await expect(censusTree(hashing, [place('A/1', 1), place('A/1', 2)])).rejects.toThrow('in order, each once');
  });
});

async function leadsTo(root: string, tree: Awaited<ReturnType<typeof censusTree>>, subject: string) {
  const standing = await censusStanding(hashing, tree, subject);
  if (standing?.ledger.subject !== subject) return false;
  const { group, groupIndex, groupPath, ledger, ledgerIndex, ledgerPath } = standing;
  const bytes = (path: readonly string[]) => path.map((hash) => fromHex(hash) ?? new Uint8Array());
  const groupRoot = rootFromInclusion(sha256, {
    index: ledgerIndex,
    size: group.ledgers,
    leaf: censusLedgerLeaf(hashing, ledger),
    path: bytes(ledgerPath),
  });
  const whole = rootFromInclusion(sha256, {
    index: groupIndex,
    size: tree.branches.length,
    leaf: censusGroupLeaf(hashing, group),
    path: bytes(groupPath),
  });
  return groupRoot && whole && toHex(groupRoot) === group.root && toHex(whole) === root;
}
