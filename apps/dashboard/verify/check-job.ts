import type { VerificationReport } from '../../../libs/evidence/verify/verification-report.js';
import type { Kept } from '../../../libs/evidence/verify/kept.js';

/** What is to be checked. */
export interface CheckJob {
  readonly file: File;
  /** What the reader has from before; an earlier audit may be long, and is read away from the page. */
  readonly kept: Omit<Kept, 'checkpoint'> & { readonly checkpoint?: string | File };
}

/** What came of it. */
export interface CheckResult {
  readonly report: VerificationReport;
  /** Lower-case hex SHA-256 of the file, to write down beside the result. */
  readonly fileHash: string;
  /** Signed checkpoint that the audit carries, worth keeping for the next time; null where there is none. */
  readonly checkpoint: string | null;
}

/** What the worker answers: a result, or in a sentence why there is none. */
export type CheckAnswer = { readonly result: CheckResult } | { readonly refusal: string };
