import { CensusProof, LedgerPlace } from '../../ledger/log/log-evidence.js';
import { canonicalJson } from '../canonical-json.js';

const CENSUS_FORMAT = 'heatbook-archive-census';
const CENSUS_VERSION = 1;

/** Every ledger of an assembly, as a census has it, and that the log has the census. */
export interface ArchiveCensus extends Pick<CensusProof, 'entry' | 'inclusion' | 'group' | 'groupIndex' | 'groupPath'> {
  /** The signed checkpoint that `inclusion` ends at. */
  readonly checkpoint: string;
  /** Last entry of each, by key. */
  readonly ledgers: () => AsyncIterable<LedgerPlace>;
}

/** Writes censuses of several assemblies, by name, as canonical JSON; docs/archive-format.md says what it means. */
export async function* censusTexts(censuses: AsyncIterable<ArchiveCensus>): AsyncGenerator<string> {
  yield `{"format":${canonicalJson(CENSUS_FORMAT)},"groups":[`;
  let before = '';
  for await (const { checkpoint, entry, group, groupIndex, groupPath, inclusion, ledgers } of censuses) {
    const open = canonicalJson({ checkpoint, entry, group, groupIndex, groupPath, inclusion });
    // `ledgers` comes after all of these.
    yield `${before}${open.slice(0, -1)},"ledgers":[`;
    let comma = '';
    for await (const { subject, seq, hash } of ledgers()) {
      yield `${comma}${canonicalJson({ subject, seq, hash })}`;
      comma = ',';
    }
    yield ']}';
    before = ',';
  }
  yield `],"version":${canonicalJson(CENSUS_VERSION)}}`;
}
