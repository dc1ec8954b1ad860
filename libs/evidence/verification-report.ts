/** What can be wrong with an audit file. The first five mean that it cannot be judged at all. */
export type FindingCode =
  | 'not-json'
  | 'file-cut'
  | 'not-an-audit'
  | 'unknown-version'
  | 'header-malformed'
  | 'duplicate-key'
  | 'unsafe-number'
  | 'subject-mismatch'
  | 'device-twice'
  | 'seal-missing'
  | 'document-changed'
  | 'ledger-foreign'
  | 'entry-foreign'
  | 'entry-malformed'
  | 'entry-changed'
  | 'entries-renumbered'
  | 'entry-missing'
  | 'tail-missing'
  | 'entry-added'
  | 'entries-swapped'
  | 'entry-moved'
  | 'entries-out-of-order'
  | 'count-mismatch'
  | 'entry-replaced'
  | 'head-mismatch';

/** One thing that is wrong, as near to its cause as the file allows. */
export interface Finding {
  /** Subject of the ledger it is in; null when it concerns the file as a whole. */
  ledger: string | null;
  /** Number of the entry (the first, where several are concerned); null when it is about no single entry. */
  seq: number | null;
  code: FindingCode;
  /** What is wrong and where, in plain words. */
  what: string;
}

/** Makes findings of one ledger. */
export type Say = (seq: number | null, code: FindingCode, what: string) => Finding;

/** Ledger and entry of a finding as one key. */
export function placeOf({ ledger, seq }: Finding): string {
  return JSON.stringify([ledger, seq]);
}

export interface VerificationReport {
  /** True when every check passed. */
  holds: boolean;
  /** What the file says it is about; null when that cannot be read. */
  subject: string | null;
  /** Entries looked at, of the unit and of the devices. */
  entries: number;
  checks: { name: string; ok: boolean }[];
  findings: Finding[];
  /** What no check of the file alone can show. */
  limits: string;
}

const UNREADABLE: ReadonlySet<FindingCode> = new Set([
  'not-json',
  'file-cut',
  'not-an-audit',
  'unknown-version',
  'header-malformed',
]);

/** True when the file could not be read as an audit, so that nothing was checked. */
export function isUnreadable(report: VerificationReport): boolean {
  return report.findings.some((finding) => UNREADABLE.has(finding.code));
}
