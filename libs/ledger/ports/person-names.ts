import { AuditPerson } from '../audits/audit-source.js';

/** Most commitments that are opened at once. */
export const MOST_OPENED = 10_000;

/**
 * The printed names behind the commitments that signatures hold; the one place that knows them. Whoever asks must have made
 * sure that the caller may see what holds the commitments.
 */
export interface PersonNames {
  /**
   * Who stands behind commitments, in order of commitment. One that was given twice comes once; one that nobody gave out is
   * left out. After an erasure `printedName` and `salt` are null: show `pseudonymOf(commitment)` instead.
   * @throws RangeError for more than `MOST_OPENED`
   */
  opened(commitments: readonly string[]): Promise<readonly AuditPerson[]>;
}
