import { setTimeout as delay } from 'node:timers/promises';
import { StreamKey } from '../../domain/subject/subject.js';
import { JobQueue } from '../ports/job-queue.js';
import { LogLag, LogLeaf, StoredCheckpoint } from '../ports/log-store.js';
import { CensusProofs } from './census-proofs.js';
import { BOOK_STREAM, CensusGroup, ConsistencyProof, InclusionProof, LogEvidence, LogKey } from './log-evidence.js';
import { currentKey, logKeys } from './log-keys.js';
import { LedgerReach, LogReader } from './log-reader.js';
import { consistencyPath, inclusionPath } from './merkle/merkle-proofs.js';
import { toHex } from './notes/hex.js';
import { SiteLogDeps } from './site-log-deps.js';
import { storedSubtrees } from './stored-subtrees.js';

const LOOK_EVERY_MS = 50;
/** Checkpoints that a reader may have kept and ask about in one export. */
const MOST_SINCE = 16;

/** What reading the log needs: signing is not its business. */
export type ReadLogDeps = Pick<SiteLogDeps, 'siteLog' | 'reads' | 'seal' | 'sha256' | 'origin' | 'signer' | 'log'> & {
  readonly queue: Pick<JobQueue, 'add'>;
};

/** Proofs from the site-wide log. */
export class ReadLog implements LogReader {
  readonly #deps: ReadLogDeps;
  readonly #censuses: CensusProofs;

  constructor(deps: ReadLogDeps) {
    this.#deps = deps;
    const { siteLog, reads, sha256, seal } = deps;
    this.#censuses = new CensusProofs(siteLog, reads, { sha256, canonical: (value) => seal.canonical(value) });
  }

  get origin(): string {
    return this.#deps.origin;
  }

  /** The newest signed checkpoint, or undefined where nothing was signed yet. */
  checkpoint(): Promise<StoredCheckpoint | undefined> {
    return this.#deps.siteLog.checkpoint();
  }

  /** Every key that checkpoints are or were signed with, oldest first. */
  keys(): Promise<readonly LogKey[]> {
    return logKeys(this.#deps.reads);
  }

  /** Leaves by number, ascending. */
  leaves(from: number, limit: number): Promise<readonly LogLeaf[]> {
    return this.#deps.siteLog.leaves(from, limit);
  }

  /** Groups of the census over the first `size` leaves, by name. */
  censusGroups(size: number): Promise<readonly CensusGroup[]> {
    return this.#deps.siteLog.censusGroups(size);
  }

  /** Commits that wait for their place, since when, and what is wrong with the log, each in words. */
  async state(): Promise<LogLag & { readonly waiting: number; readonly troubles: readonly string[] }> {
    const { siteLog } = this.#deps;
    const [waiting, findings, lag] = await Promise.all([siteLog.waitingCount(), siteLog.findings(), siteLog.lag()]);
    return { ...lag, waiting, troubles: findings.flatMap(({ trouble }) => trouble ?? []) };
  }

  async caughtUp(ledgers: readonly LedgerReach[], patienceMs: number): Promise<boolean> {
    const deadline = performance.now() + patienceMs;
    if (await this.#isCaughtUp(ledgers)) return true;
    // Where no process ever had a key, nothing is to be waited for.
    const { signer, reads } = this.#deps;
    if (signer === undefined && (await currentKey(reads)) === undefined) return false;
    await this.#wake();
    while (performance.now() < deadline) {
      await delay(LOOK_EVERY_MS);
      if (await this.#isCaughtUp(ledgers)) return true;
    }
    return false;
  }

  async evidence(ledgers: readonly LedgerReach[], since: readonly number[]): Promise<LogEvidence | null> {
    const { siteLog, reads, origin } = this.#deps;
    const checkpoint = await siteLog.checkpoint();
    if (checkpoint === undefined) return null;
    const [first] = ledgers;
    const inclusion: InclusionProof[] = [];
    for (const leaf of await siteLog.newest(ledgers, checkpoint.size))
      inclusion.push(await this.include(leaf, checkpoint.size));
    const consistency: ConsistencyProof[] = [];
    for (const from of sizesAsked(since, checkpoint)) consistency.push(await this.continue(from, checkpoint.size));
    const { censuses, leftOut } =
      first === undefined
        ? { censuses: [], leftOut: 0 }
        : await this.#censuses.of(first.subject, (seq) => this.entry(BOOK_STREAM, seq, checkpoint.size));
    return {
      ...{ origin, checkpoint: checkpoint.note, keys: await logKeys(reads) },
      ...{ inclusion, consistency, censuses, censusesLeftOut: leftOut },
    };
  }

  /** Proves one entry of a ledger in the log of `size` leaves; undefined where that log does not have it. */
  async entry(subject: StreamKey, seq: number, size: number): Promise<InclusionProof | undefined> {
    const [leaf] = await this.#deps.siteLog.newest([{ subject, seq }], size);
    return leaf?.seq === seq ? this.include(leaf, size) : undefined;
  }

  /** Proves a leaf in the log of `size` leaves. @throws RangeError where that log does not have it */
  async include({ index, subject, seq, hash }: LogLeaf, size: number): Promise<InclusionProof> {
    const { sha256, siteLog } = this.#deps;
    const path = await inclusionPath(sha256, storedSubtrees(sha256, siteLog), index, size);
    return { subject, seq, hash, index, path: path.map(toHex) };
  }

  /** Proves that the log of `from` leaves is the beginning of that of `to`. @throws RangeError unless 0 <= from <= to */
  async continue(from: number, to: number): Promise<ConsistencyProof> {
    const { sha256, siteLog } = this.#deps;
    const path = await consistencyPath(sha256, storedSubtrees(sha256, siteLog), from, to);
    return { from, to, path: path.map(toHex) };
  }

  async #isCaughtUp(ledgers: readonly LedgerReach[]): Promise<boolean> {
    const { siteLog } = this.#deps;
    const size = (await siteLog.checkpoint())?.size ?? 0;
    // A ledger without entries has nothing to wait for.
    const asked = ledgers.filter(({ seq }) => seq > 0);
    const newest = new Map((await siteLog.newest(asked, size)).map(({ subject, seq }) => [subject, seq]));
    return asked.every(({ subject, seq }) => newest.get(subject) === seq);
  }

  async #wake(): Promise<void> {
    const { queue, log } = this.#deps;
    await queue.add('sequence-log', {}, { dedupeKey: 'sequence-log' }).catch((error: unknown) => {
      // Its timer does it too, a little later.
      log.warn('The sequencer of the log was not woken.', { error: String(error) });
    });
  }
}

function sizesAsked(since: readonly number[], { size }: StoredCheckpoint): readonly number[] {
  const fit = since.filter((from) => Number.isSafeInteger(from) && from > 0 && from <= size);
  return [...new Set(fit)].sort((a, b) => a - b).slice(0, MOST_SINCE);
}
