import { StreamKey } from '../../domain/subject/subject.js';
import { CensusGroup, CensusProof, LedgerPlace } from './log-evidence.js';
import { leafHash, Sha256 } from './merkle/hashing.js';
import { readerOf } from './merkle/leaf-tree.js';
import { inclusionPath, rootAt } from './merkle/merkle-proofs.js';
import { SubtreeReader } from './merkle/subtrees.js';
import { toHex } from './notes/hex.js';

/** What a census is hashed with. */
export interface CensusHashing {
  readonly sha256: Sha256;
  /** RFC 8785. */
  readonly canonical: (value: unknown) => string;
}

/** A group with its tree over ledgers. */
export interface CensusBranch {
  readonly group: CensusGroup;
  /** Last entry of each of its ledgers, in order of key. */
  readonly places: readonly LedgerPlace[];
  readonly read: SubtreeReader;
}

/** Both trees of a census, with what it says of itself besides its day and its log. */
export interface CensusTree {
  /** In order of name. */
  readonly branches: readonly CensusBranch[];
  readonly read: SubtreeReader;
  readonly ledgers: number;
  readonly entries: number;
  /** Of the tree over groups, lower-case hex. */
  readonly root: string;
}

/** Where a ledger stands in a census; with the census's own entry and its inclusion it is a `CensusProof`. */
export type CensusStanding = Omit<CensusProof, 'entry' | 'inclusion'>;

/** The group that a ledger is counted in: its assembly, `devices`, `stations` or `~book`. */
export function censusGroupOf(subject: StreamKey): string {
  const [group = subject] = subject.split('/', 1);
  return group;
}

/** Hash of a group as a leaf of the tree over groups: of the canonical form of `{group, ledgers, entries, root}`. */
export function censusGroupLeaf(hashing: CensusHashing, { group, ledgers, entries, root }: CensusGroup): Uint8Array {
  return leafOf(hashing, { group, ledgers, entries, root });
}

/** Hash of a ledger as a leaf of its group's tree: of the canonical form of `{subject, seq, hash}`. */
export function censusLedgerLeaf(hashing: CensusHashing, { subject, seq, hash }: LedgerPlace): Uint8Array {
  return leafOf(hashing, { subject, seq, hash });
}

/**
 * The trees of a census over the last entry of each ledger. Names are ordered by their UTF-16 code units, which for the
 * names of the book is the order of their bytes.
 * @param places ascending by subject, each once
 * @throws RangeError where they are not
 */
export async function censusTree(hashing: CensusHashing, places: readonly LedgerPlace[]): Promise<CensusTree> {
  requireAscending(places);
  const branches: CensusBranch[] = [];
  for (const [name, own] of groupsOf(places)) branches.push(await branchOf(hashing, name, own));
  const read = readerOf(
    hashing.sha256,
    branches.map(({ group }) => censusGroupLeaf(hashing, group)),
  );
  return {
    branches,
    read,
    ledgers: places.length,
    entries: entriesOf(places),
    root: toHex(await rootAt(hashing.sha256, read, branches.length)),
  };
}

/** The ways from a ledger to the root of its group, and from there to the root of the census; undefined where it is in none. */
export async function censusStanding(
  { sha256 }: CensusHashing,
  tree: CensusTree,
  subject: StreamKey,
): Promise<CensusStanding | undefined> {
  const name = censusGroupOf(subject);
  const groupIndex = tree.branches.findIndex(({ group }) => group.group === name);
  const branch = tree.branches[groupIndex];
  const ledgerIndex = branch?.places.findIndex((place) => place.subject === subject) ?? -1;
  const ledger = branch?.places[ledgerIndex];
  if (!branch || !ledger) return undefined;
  const groupPath = await inclusionPath(sha256, tree.read, groupIndex, tree.branches.length);
  const ledgerPath = await inclusionPath(sha256, branch.read, ledgerIndex, branch.places.length);
  return {
    group: branch.group,
    groupIndex,
    groupPath: groupPath.map(toHex),
    ledger: { subject: ledger.subject, seq: ledger.seq, hash: ledger.hash },
    ledgerIndex,
    ledgerPath: ledgerPath.map(toHex),
  };
}

async function branchOf(hashing: CensusHashing, group: string, places: LedgerPlace[]): Promise<CensusBranch> {
  const read = readerOf(
    hashing.sha256,
    places.map((place) => censusLedgerLeaf(hashing, place)),
  );
  const root = toHex(await rootAt(hashing.sha256, read, places.length));
  return { group: { group, ledgers: places.length, entries: entriesOf(places), root }, places, read };
}

/** By name of group: not the order of the keys, since `A-1/x` comes before `A/x` though `A` comes before `A-1`. */
function groupsOf(places: readonly LedgerPlace[]): [string, LedgerPlace[]][] {
  const groups = new Map<string, LedgerPlace[]>();
  for (const place of places) {
    const name = censusGroupOf(place.subject);
    const own = groups.get(name);
    if (own) own.push(place);
    else groups.set(name, [place]);
  }
  return [...groups].sort(([left], [right]) => (left < right ? -1 : 1));
}

function entriesOf(places: readonly LedgerPlace[]): number {
  return places.reduce((sum, { seq }) => sum + seq, 0);
}

function leafOf({ sha256, canonical }: CensusHashing, value: unknown): Uint8Array {
  return leafHash(sha256, new TextEncoder().encode(canonical(value)));
}

function requireAscending(places: readonly LedgerPlace[]): void {
  places.forEach(({ subject }, at) => {
    const before = places[at - 1];
    if (before && before.subject >= subject) {
      throw new RangeError(`A census is over ledgers in order, each once: ${subject} came after ${before.subject}.`);
    }
  });
}
