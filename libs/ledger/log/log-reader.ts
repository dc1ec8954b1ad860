import { StreamKey } from '../../domain/subject/subject.js';
import { LogEvidence } from './log-evidence.js';

/** A ledger and how far an export of it reaches. */
export interface LedgerReach {
  readonly subject: StreamKey;
  readonly seq: number;
}

/** What exports ask of the site-wide log. Whoever asks must have made sure that the caller may see the ledgers. */
export interface LogReader {
  /**
   * Waits until these entries are under a signed checkpoint, at most `patienceMs`.
   * @returns whether they all are
   */
  caughtUp(ledgers: readonly LedgerReach[], patienceMs: number): Promise<boolean>;
  /**
   * Proofs under the newest signed checkpoint. The first ledger is the one whose censuses are told.
   * @param since sizes of checkpoints that a reader has from before: a consistency proof for each that is not larger than
   * the newest
   * @returns null as long as there is no signed checkpoint
   */
  evidence(ledgers: readonly LedgerReach[], since: readonly number[]): Promise<LogEvidence | null>;
}
