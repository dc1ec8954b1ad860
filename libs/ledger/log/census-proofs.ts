import { StreamKey } from '../../domain/subject/subject.js';
import { LogStore } from '../ports/log-store.js';
import { SealedEntry } from '../ports/seal.js';
import { censusBranch, censusOver } from './census-branches.js';
import { CensusBranch, CensusHashing, censusGroupOf, censusStanding } from './census-tree.js';
import { BOOK_STREAM, CensusData, CensusProof, InclusionProof } from './log-evidence.js';
import { ledgerOfCensuses } from './ledger-in-censuses.js';
import { SiteLogDeps } from './site-log-deps.js';

/** Censuses that an export tells of at most. */
const CENSUSES_TOLD = 31;
/** Ledgers of groups that are kept at hand, some 200 bytes each. */
const LEDGERS_AT_HAND = 100_000;

/** Shows ledgers in censuses. Groups that were worked out lately are kept: exports of one assembly ask for the same ones. */
export class CensusProofs {
  readonly #branches = new Map<string, CensusBranch | undefined>();
  #ledgers = 0;

  constructor(
    private readonly siteLog: LogStore,
    private readonly reads: SiteLogDeps['reads'],
    private readonly hashing: CensusHashing,
  ) {}

  /**
   * A proof for each head that censuses saw of a ledger, by the first census that did; oldest first, the newest 31.
   * @param include proves an entry of the book's ledger; undefined where no checkpoint covers it yet
   */
  async of(
    subject: StreamKey,
    include: (seq: number) => Promise<InclusionProof | undefined>,
  ): Promise<{ readonly censuses: readonly CensusProof[]; readonly leftOut: number }> {
    const seen = await ledgerOfCensuses(this.siteLog, this.reads, subject);
    const told: CensusProof[] = [];
    for (const { seq, data } of seen.slice(-CENSUSES_TOLD)) {
      const inclusion = await include(seq);
      const entry = inclusion === undefined ? undefined : await this.#entry(seq);
      const standing = entry === undefined ? undefined : await this.#standing(subject, data);
      if (inclusion === undefined || entry === undefined || standing === undefined) continue;
      told.push({ entry, inclusion, ...standing });
    }
    return { censuses: told, leftOut: Math.max(0, seen.length - CENSUSES_TOLD) };
  }

  async #entry(seq: number): Promise<SealedEntry | undefined> {
    const [entry] = await this.reads.ledger(BOOK_STREAM, { limit: 1, order: 'asc', afterSeq: seq - 1 });
    return entry;
  }

  async #standing(subject: StreamKey, { size }: CensusData): ReturnType<typeof censusStanding> {
    const branch = await this.#branch(size, censusGroupOf(subject));
    if (branch === undefined) return undefined;
    const tree = await censusOver(this.hashing, await this.siteLog.censusGroups(size), branch);
    return censusStanding(this.hashing, tree, subject);
  }

  async #branch(size: number, group: string): Promise<CensusBranch | undefined> {
    const key = `${size} ${group}`;
    const branch = this.#branches.get(key) ?? (await censusBranch(this.hashing, this.siteLog, size, group));
    if (branch === undefined) return undefined;
    this.#forget(key);
    // Last in the map: those that nobody asked for the longest are first.
    this.#branches.set(key, branch);
    this.#ledgers += branch.places.length;
    for (const [oldest] of this.#branches) {
      if (this.#ledgers <= LEDGERS_AT_HAND) break;
      this.#forget(oldest);
    }
    return branch;
  }

  #forget(key: string): void {
    this.#ledgers -= this.#branches.get(key)?.places.length ?? 0;
    this.#branches.delete(key);
  }
}
