import { LogCheckReads } from '../ports/log-store.js';
import { CensusBranch, CensusHashing, censusGroupLeaf, censusGroupOf, censusTree, CensusTree } from './census-tree.js';
import { CensusGroup, LedgerPlace } from './log-evidence.js';
import { readerOf } from './merkle/leaf-tree.js';
import { rootAt } from './merkle/merkle-proofs.js';
import { toHex } from './notes/hex.js';

const PAGE = 2000;

/** Every group of the census over the first `size` leaves, one after the other, worked out from the leaves alone. */
export async function* censusBranches(
  hashing: CensusHashing,
  siteLog: Pick<LogCheckReads, 'ledgersAt'>,
  size: number,
): AsyncIterable<CensusBranch> {
  let own: LedgerPlace[] = [];
  for await (const place of ledgersAt(siteLog, size)) {
    // Ledgers of one group lie together, since their keys begin alike.
    const [first] = own;
    if (first !== undefined && censusGroupOf(first.subject) !== censusGroupOf(place.subject)) {
      yield await branchOver(hashing, own);
      own = [];
    }
    own.push(place);
  }
  if (own.length > 0) yield await branchOver(hashing, own);
}

/** One group of the census over the first `size` leaves; undefined where it had no ledger. */
export async function censusBranch(
  hashing: CensusHashing,
  siteLog: Pick<LogCheckReads, 'ledgersAt'>,
  size: number,
  group: string,
): Promise<CensusBranch | undefined> {
  const places: LedgerPlace[] = [];
  // The book's own ledger is called like its group; keys of all others have a slash behind it.
  const prefix = group.startsWith('~') ? group : `${group}/`;
  for await (const place of ledgersAt(siteLog, size, prefix)) places.push(place);
  return places.length === 0 ? undefined : branchOver(hashing, places);
}

/** The tree over groups, where `branch` alone has its ledgers at hand. */
export async function censusOver(
  hashing: CensusHashing,
  groups: readonly CensusGroup[],
  branch?: CensusBranch,
): Promise<CensusTree> {
  const sorted = [...groups].sort((a, b) => (a.group < b.group ? -1 : 1));
  const read = readerOf(
    hashing.sha256,
    sorted.map((group) => censusGroupLeaf(hashing, group)),
  );
  const bare = (group: CensusGroup): CensusBranch => ({ group, places: [], read: () => Promise.resolve([]) });
  return {
    branches: sorted.map((group) => (branch?.group.group === group.group ? branch : bare(group))),
    read,
    ledgers: sorted.reduce((sum, { ledgers }) => sum + ledgers, 0),
    entries: sorted.reduce((sum, { entries }) => sum + entries, 0),
    root: toHex(await rootAt(hashing.sha256, read, sorted.length)),
  };
}

async function branchOver(hashing: CensusHashing, places: readonly LedgerPlace[]): Promise<CensusBranch> {
  const [branch] = (await censusTree(hashing, places)).branches;
  if (branch === undefined) throw new RangeError('A group of a census has at least one ledger.');
  return branch;
}

async function* ledgersAt(
  siteLog: Pick<LogCheckReads, 'ledgersAt'>,
  size: number,
  prefix = '',
): AsyncIterable<LedgerPlace> {
  for (let after: string | null = null; ;) {
    const page: readonly LedgerPlace[] = await siteLog.ledgersAt(size, { after, limit: PAGE, prefix });
    yield* page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last.subject;
  }
}
