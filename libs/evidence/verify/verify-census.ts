import { censusGroupLeaf, censusGroupOf, censusLedgerLeaf, type CensusHashing } from '../../ledger/log/census-tree.js';
import { BOOK_STREAM } from '../../ledger/log/log-evidence.js';
import { rootFromInclusion } from '../../ledger/log/merkle/check-proofs.js';
import { toHex } from '../../ledger/log/notes/hex.js';
import type { Checkpoint } from '../../ledger/log/notes/checkpoint.js';
import { canonicalMembers, objectText } from './canonical-members.js';
import type { ReadCensus, ReadCensusGroup, ReadLog } from './read-log.js';
import { ofTheFile, type Finding } from './verification-report.js';
import { isIncluded, type Anchor } from './verify-inclusion.js';

const CENSUS_TYPE = 'heatbook.census.taken.v1';

/** What each census says of the unit's ledger, where its proofs hold; and what is wrong with the others. */
export function anchorsInCensuses(
  { censuses }: ReadLog,
  checkpoint: Checkpoint,
  subject: string,
  hashing: CensusHashing,
): { readonly anchors: readonly Anchor[]; readonly findings: readonly Finding[] } {
  const anchors: Anchor[] = [];
  const findings: Finding[] = [];
  for (const [index, census] of censuses.entries()) {
    const { day } = census.data;
    const fault = faultOf(census, checkpoint, subject, hashing);
    if (fault !== undefined) {
      const what = `The census of ${day} is none that the log vouches for: ${fault}.`;
      findings.push({ ledger: BOOK_STREAM, seq: census.inclusion.seq, code: 'census-broken', what });
      continue;
    }
    const before = censuses[index - 1]?.data;
    if (before && !(before.day < day && before.size <= census.data.size)) {
      findings.push(ofTheFile('census-order', `The censuses do not follow each other: ${before.day}, then ${day}.`));
    }
    anchors.push({ ...census.ledger, witness: `the census of ${day}` });
  }
  return { anchors, findings };
}

function faultOf(
  census: ReadCensus,
  checkpoint: Checkpoint,
  subject: string,
  hashing: CensusHashing,
): string | undefined {
  const { group, ledger } = census;
  const fault = censusGroupFault(census, checkpoint, hashing);
  if (fault !== undefined) return fault;
  if (ledger.subject !== subject) return `it is about ${ledger.subject}`;
  if (group.group !== censusGroupOf(subject)) return `its group is ${group.group}`;
  const leaf = censusLedgerLeaf(hashing, ledger);
  const claim = { index: census.ledgerIndex, size: group.ledgers, leaf, path: census.ledgerPath };
  if (!leadsTo(rootFromInclusion(hashing.sha256, claim), group.root))
    return 'its ledger is not the one that it counted';
  return undefined;
}

/** What is wrong with a census or with its group, as the end of a sentence. */
export function censusGroupFault(
  { entry, data, inclusion, group, groupIndex, groupPath }: ReadCensusGroup,
  checkpoint: Checkpoint,
  hashing: CensusHashing,
): string | undefined {
  if (hashOf(entry, hashing) !== entry.hash) return 'its entry does not give its hash';
  if (entry.subject !== BOOK_STREAM || entry.type !== CENSUS_TYPE) return 'its entry is no census of the book';
  if (inclusion.subject !== BOOK_STREAM || inclusion.seq !== entry.seq || inclusion.hash !== entry.hash) {
    return 'the proof beside it is for another entry';
  }
  if (!isIncluded(hashing.sha256, inclusion, checkpoint)) return 'the proof for it does not lead to the checkpoint';
  // It was taken over the log as it was before the census itself was entered.
  if (data.size > inclusion.index) return 'it counts entries that came after it';
  if (group.ledgers > data.ledgers || group.entries > data.entries) return 'its group is larger than the whole';
  const leaf = censusGroupLeaf(hashing, group);
  const claim = { index: groupIndex, size: data.groups, leaf, path: groupPath };
  if (!leadsTo(rootFromInclusion(hashing.sha256, claim), data.root)) return 'its group is not the one that it counted';
  return undefined;
}

function leadsTo(root: Uint8Array | undefined, wanted: string): boolean {
  return root !== undefined && toHex(root) === wanted;
}

function hashOf(entry: ReadCensus['entry'], { sha256 }: CensusHashing): string | undefined {
  try {
    return toHex(sha256(new TextEncoder().encode(objectText(canonicalMembers(entry), ['hash']))));
  } catch {
    return undefined;
  }
}
