import { censusOver } from '../../ledger/log/census-branches.js';
import { CensusHashing } from '../../ledger/log/census-tree.js';
import { LOG_ENTRY_TYPES } from '../../ledger/log/book-entries.js';
import { BOOK_STREAM, CensusData, InclusionProof, LedgerPlace } from '../../ledger/log/log-evidence.js';
import { inclusionPath } from '../../ledger/log/merkle/merkle-proofs.js';
import { toHex } from '../../ledger/log/notes/hex.js';
import { LogStore } from '../../ledger/ports/log-store.js';
import { ReadStore } from '../../ledger/ports/read-store.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { ArchiveCensus } from './archive-census.js';

/** A census that no checkpoint covers yet is followed by one that was taken the day before. */
const LOOKED_AT = 3;
const PAGE = 2_000;

interface CensusSource {
  readonly siteLog: Pick<LogStore, 'checkpoint' | 'censusGroups' | 'ledgersAt'>;
  readonly reads: Pick<ReadStore, 'ledger'>;
  /** Proves one entry of a ledger in the log of `size` leaves; undefined where that log does not have it. */
  readonly proofs: {
    entry(subject: string, seq: number, size: number): Promise<InclusionProof | undefined>;
  };
  readonly hashing: CensusHashing;
}

/** The newest census that has an assembly and that a signed checkpoint covers; undefined where there is none. */
export async function newestCensus(source: CensusSource, assembly: string): Promise<ArchiveCensus | undefined> {
  const checkpoint = await source.siteLog.checkpoint();
  if (checkpoint === undefined) return undefined;
  const page = { limit: LOOKED_AT, order: 'desc', afterSeq: null, type: LOG_ENTRY_TYPES.censusTaken } as const;
  for (const entry of await source.reads.ledger(BOOK_STREAM, page)) {
    const inclusion = await source.proofs.entry(BOOK_STREAM, entry.seq, checkpoint.size);
    if (inclusion !== undefined) return censusOf(source, assembly, entry, { inclusion, checkpoint: checkpoint.note });
  }
  return undefined;
}

async function censusOf(
  { siteLog, hashing }: CensusSource,
  assembly: string,
  entry: SealedEntry,
  proof: Pick<ArchiveCensus, 'inclusion' | 'checkpoint'>,
): Promise<ArchiveCensus | undefined> {
  const { size } = entry.data as CensusData;
  const tree = await censusOver(hashing, await siteLog.censusGroups(size));
  const groupIndex = tree.branches.findIndex(({ group }) => group.group === assembly);
  const branch = tree.branches[groupIndex];
  if (branch === undefined) return undefined;
  const groupPath = await inclusionPath(hashing.sha256, tree.read, groupIndex, tree.branches.length);
  return {
    ...{ entry, ...proof, group: branch.group, groupIndex, groupPath: groupPath.map(toHex) },
    ledgers: () => ledgersOf(siteLog, size, `${assembly}/`),
  };
}

async function* ledgersOf(
  siteLog: Pick<LogStore, 'ledgersAt'>,
  size: number,
  prefix: string,
): AsyncGenerator<LedgerPlace> {
  for (let after: string | null = null; ;) {
    const page: readonly LedgerPlace[] = await siteLog.ledgersAt(size, { after, limit: PAGE, prefix });
    yield* page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last.subject;
  }
}
