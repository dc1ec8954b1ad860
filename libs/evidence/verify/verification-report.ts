/** What can be wrong with a file. The first eight mean that it cannot be judged at all; docs/audit-format.md says of each what it is. */
export const FINDING_CODES = [
  'not-json',
  'file-cut',
  'not-an-audit',
  'unknown-version',
  'header-malformed',
  'too-big',
  'archive-cut',
  'key-needed',
  // The text, the outline and the seal
  'duplicate-key',
  'unsafe-number',
  'subject-mismatch',
  'device-twice',
  'seal-missing',
  'document-changed',
  // A ledger by itself
  'ledger-foreign',
  'entry-foreign',
  'entry-malformed',
  'entry-changed',
  'entries-renumbered',
  'entry-missing',
  'tail-missing',
  'entry-added',
  'entries-swapped',
  'entry-moved',
  'entries-out-of-order',
  'count-mismatch',
  'entry-replaced',
  'head-mismatch',
  // Signatures of people
  'signature-missing',
  'signature-malformed',
  'signature-broken',
  'signature-mismatch',
  'person-malformed',
  'person-twice',
  'person-mismatch',
  'trace-malformed',
  // Signatures of the house
  'statement-malformed',
  'statement-forged',
  'statement-mismatch',
  'not-signed',
  'key-malformed',
  'key-untrusted',
  'endorsement-broken',
  // The log
  'log-malformed',
  'checkpoint-malformed',
  'checkpoint-foreign',
  'checkpoint-forged',
  'inclusion-foreign',
  'inclusion-twice',
  'inclusion-broken',
  'log-ahead',
  'story-forked',
  'census-broken',
  'census-order',
  // Against what was kept from before
  'kept-foreign',
  'kept-forged',
  'kept-newer',
  'log-forked',
  'consistency-missing',
  // An archive
  'archive-unsafe',
  'manifest-missing',
  'manifest-malformed',
  'manifest-forged',
  'manifest-mismatch',
  'file-twice',
  'file-missing',
  'file-added',
  'file-changed',
  'file-unreadable',
  'unit-vanished',
] as const;

export type FindingCode = (typeof FINDING_CODES)[number];

/** One thing that is wrong, as near to its cause as the file allows. */
export interface Finding {
  /** Name of the file within an archive; absent where the file itself is meant. */
  readonly file?: string;
  /** Subject of the ledger it is in; null when it concerns the file as a whole. */
  readonly ledger: string | null;
  /** Number of the entry (the first, where several are concerned); null when it is about no single entry. */
  readonly seq: number | null;
  readonly code: FindingCode;
  /** What is wrong and where, in plain words. */
  readonly what: string;
}

/** Makes findings of one ledger. */
export type Say = (seq: number | null, code: FindingCode, what: string) => Finding;

/** A finding about a file as a whole. */
export function ofTheFile(code: FindingCode, what: string): Finding {
  return { ledger: null, seq: null, code, what };
}

/** Ledger and entry of a finding as one key. */
export function placeOf({ ledger, seq }: Finding): string {
  return JSON.stringify([ledger, seq]);
}

export interface Check {
  readonly name: string;
  /** Null where the file has nothing to show it by: neither sound nor at fault. */
  readonly ok: boolean | null;
}

/** What one part of the check came to. */
export interface Outcome {
  readonly checks: readonly Check[];
  readonly findings: readonly Finding[];
  /** What is no fault, but has to be known. Sentences. */
  readonly notes: readonly string[];
}

/** An outcome with one check, which is sound where nothing was found. */
export function outcomeOf(name: string, findings: readonly Finding[], notes: readonly string[] = []): Outcome {
  return { checks: [{ name, ok: findings.length === 0 }], findings, notes };
}

/** An outcome with one check that the file has nothing to show by. */
export function notShown(name: string, notes: readonly string[]): Outcome {
  return { checks: [{ name, ok: null }], findings: [], notes };
}

/** All of them, in order. */
export function together(outcomes: readonly Outcome[]): Outcome {
  return {
    checks: outcomes.flatMap(({ checks }) => checks),
    findings: outcomes.flatMap(({ findings }) => findings),
    notes: outcomes.flatMap(({ notes }) => notes),
  };
}

/** A list of which the first are told. */
export interface ToldList<T> {
  readonly count: number;
  readonly first: readonly T[];
}

/** What a file tells, in short: as it says itself, whether or not that holds. Words are those of the file. */
export interface AuditTale {
  /** When the file says that it was made, RFC 3339: what came later is in a later one. Null where it does not say. */
  readonly exportedAt: string | null;
  /** Each ledger with the number of its last entry and its hash, as a PDF of the same export shows them. */
  readonly heads: ToldList<{ readonly ledger: string; readonly count: number; readonly headHash: string }>;
  /** Entries of the whole log under the checkpoint of the file, and its root in hex; null where there is none to be read. */
  readonly checkpoint: { readonly size: number; readonly root: string } | null;
  /** How many entries there are of each type, of the unit and of the devices; by name. */
  readonly types: readonly { readonly type: string; readonly count: number }[];
  /** Entries that strike an event. */
  readonly struck: ToldList<{
    readonly ledger: string;
    readonly seq: number;
    readonly event: string;
    readonly by: string;
  }>;
  /** Entries by which a verdict was changed after the fact. */
  readonly rejudged: number;
  /** Concessions signed, and withdrawn. */
  readonly concessions: { readonly signed: number; readonly withdrawn: number };
  readonly signatures: ToldList<{
    readonly ledger: string;
    readonly seq: number;
    readonly by: string;
    readonly meaning: string;
    readonly at: string;
  }>;
  /** Holds that the file lists, by state; null in version 1. */
  readonly holds: readonly { readonly state: string; readonly count: number }[] | null;
}

export interface VerificationReport extends Outcome {
  readonly kind: 'audit' | 'archive' | 'checkpoint';
  /** True when no check failed. */
  readonly holds: boolean;
  /** What the file says it is about; null when that cannot be read, and for an archive. */
  readonly subject: string | null;
  /** Units whose audits were looked at. */
  readonly units: number;
  /** Entries looked at, of the units and of the devices. */
  readonly entries: number;
  /** What is in it, in short; null where it cannot be read, and for an archive. */
  readonly tale: AuditTale | null;
  /** What no check of the file alone can show. */
  readonly limits: string;
}

const UNREADABLE: ReadonlySet<FindingCode> = new Set([
  'not-json',
  'file-cut',
  'not-an-audit',
  'unknown-version',
  'header-malformed',
  'too-big',
  'archive-cut',
  'key-needed',
]);

/** True when the file could not be read as what it should be, so that nothing was checked. */
export function isUnreadable(report: VerificationReport): boolean {
  return report.findings.some(({ code, file }) => file === undefined && UNREADABLE.has(code));
}
