import type { Digests } from '../digests.js';
import { findingsInText } from './findings-in-text.js';
import { hashTextWith } from './hash-text.js';
import type { Kept } from './kept.js';
import { readAudit, UnreadableAudit, type ReadAudit, type ReadLedger } from './read-audit.js';
import { asRecord } from './read-members.js';
import { tellAudit } from './tell-audit.js';
import {
  ofTheFile,
  placeOf,
  together,
  type Check,
  type Finding,
  type FindingCode,
  type Outcome,
  type VerificationReport,
} from './verification-report.js';
import { verifyEvidence } from './verify-evidence.js';
import { verifyLedger, type CheckedLedger } from './verify-ledger.js';
import { isCanonical, sealedText, sealFits, verifySeal } from './verify-seal.js';
import { verifySignatures } from './verify-signatures.js';

export const LIMITS = {
  /** Of a file whose log and statement were checked. */
  anchored:
    'What the log and the signatures vouch for is that the house has not told another story since, not that what was ' +
    'written is true. A house that signs everything anew under its own key can be found out only by a checkpoint kept ' +
    'from before, by a key that you have by another way, or by what others hold. Unit summary, holds and configuration ' +
    'are what the house saw in its entries when it made the file.',
  alone:
    'A file by itself cannot show that it was not rewritten from its first line by whoever exported it, with every hash ' +
    'and the seal computed anew, or that entries were left off its end with count, headHash and seal made to fit. ' +
    'Compare headHash with one received earlier or by another way. The unit summary and the configuration are covered ' +
    'by the seal of the file alone. The hashes show that entries are as they were written, not that what was written ' +
    'is true.',
} as const;

const READABLE = 'the file is whole and can be read';
const UNAMBIGUOUS = 'no name stands twice and every number can be read exactly';
const OUTLINE = 'it speaks of one unit, and names each device once';

const CHECK_OF_ENTRY: ReadonlySet<FindingCode> = new Set([
  'entry-changed',
  'entry-malformed',
  'entries-renumbered',
  'duplicate-key',
  'unsafe-number',
]);
const CHECK_OF_CHAIN: ReadonlySet<FindingCode> = new Set(['entry-replaced', 'head-mismatch']);

/**
 * Checks an audit file (the text of its JSON) by itself: no clock, no network, no database. Never throws.
 * Formatting and key order do not matter. Each finding names the cause, not what follows from it.
 * @param kept what the reader has from before, or by another way
 */
export async function verifyAudit(text: string, digests: Digests, kept: Kept = {}): Promise<VerificationReport> {
  return (await checkAudit(text, digests, kept)).report;
}

/** As `verifyAudit`, with what was read; null where it cannot be judged. */
export async function checkAudit(
  text: string,
  digests: Digests,
  kept: Kept,
): Promise<{ readonly report: VerificationReport; readonly audit: ReadAudit | null }> {
  const json = text.startsWith('\uFEFF') ? text.slice(1) : text;
  try {
    const audit = readAudit(json);
    return { report: await judge(audit, json, digests, kept), audit };
  } catch (error) {
    if (!(error instanceof UnreadableAudit)) throw error;
    return { report: unreadable('audit', error), audit: null };
  }
}

/** The report on a file that cannot be judged. */
export function unreadable(
  kind: VerificationReport['kind'],
  { code, message }: { readonly code: FindingCode; readonly message: string },
): VerificationReport {
  return {
    kind,
    holds: false,
    subject: null,
    units: 0,
    entries: 0,
    checks: [{ name: READABLE, ok: false }],
    findings: [ofTheFile(code, message)],
    notes: [],
    tale: null,
    limits: LIMITS.alone,
  };
}

async function judge(audit: ReadAudit, json: string, digests: Digests, kept: Kept): Promise<VerificationReport> {
  const ledgers = [unitLedger(audit), ...audit.devices];
  const content = verifyContent(audit, ledgers, json, digests);
  const signatures = verifySignatures(audit, ledgers, hashTextWith(digests));
  const evidence = await verifyEvidence({ audit, ledgers, found: content.findings }, digests, kept);
  const others = together([content, signatures, evidence]);
  const sealed = verifySeal(audit, content.fits, others.findings);
  const { checks, findings, notes } = together([content, sealed, signatures, evidence]);
  return {
    kind: 'audit',
    holds: findings.length === 0,
    subject: audit.subject,
    units: 1,
    entries: ledgers.reduce((sum, ledger) => sum + ledger.entries.length, 0),
    checks,
    findings,
    notes,
    tale: tellAudit(audit, ledgers),
    limits: audit.extras?.log ? LIMITS.anchored : LIMITS.alone,
  };
}

/** What the file shows by itself: its text, its outline, its ledgers, and whether its seal fits. */
function verifyContent(
  audit: ReadAudit,
  ledgers: readonly ReadLedger[],
  json: string,
  digests: Digests,
): Outcome & { readonly fits: boolean } {
  const hashText = hashTextWith(digests);
  const checked = ledgers.map((ledger) => verifyLedger(ledger, hashText));
  const sealed = sealedText(audit, checked);
  const textFindings = isCanonical(json, sealed) ? [] : findingsInText(json, ledgers);
  const outlineFindings = outline(audit);
  const findings = [...textFindings, ...outlineFindings, ...ledgerFindings(checked, textFindings)];
  return {
    fits: sealFits(audit, sealed, hashText),
    checks: [
      { name: READABLE, ok: true },
      { name: UNAMBIGUOUS, ok: textFindings.length === 0 },
      { name: OUTLINE, ok: outlineFindings.length === 0 },
      ...ledgerChecks(ledgers, findings),
    ],
    findings,
    notes: [],
  };
}

/** An entry that reads differently in another reader has no single content to hash. */
function ledgerFindings(checked: readonly CheckedLedger[], textFindings: readonly Finding[]): Finding[] {
  const ambiguous = new Set(textFindings.map((finding) => placeOf(finding)));
  return checked
    .flatMap(({ findings }) => findings)
    .filter((finding) => !(isOfEntry(finding) && ambiguous.has(placeOf(finding))));
}

/** Where subject and serial contradict each other, the entries say which was meant: one fault, not one more for them. */
function unitLedger({ unit, assembly, serial }: ReadAudit): ReadLedger {
  const named = `${assembly}/${serial}`;
  return asRecord(unit.entries[0])?.subject === named ? { ...unit, subject: named } : unit;
}

function ledgerChecks(ledgers: readonly ReadLedger[], findings: readonly Finding[]): Check[] {
  const byLedger = new Map(ledgers.map(({ subject }) => [subject, [] as Finding[]]));
  for (const finding of findings) byLedger.get(finding.ledger ?? '')?.push(finding);
  return ledgers.flatMap(({ subject }) => {
    const own = byLedger.get(subject) ?? [];
    const inChain = (finding: Finding) => CHECK_OF_CHAIN.has(finding.code);
    return [
      { name: `${subject}: every entry gives its hash`, ok: !own.some(isOfEntry) },
      {
        name: `${subject}: all entries are there, once, in order`,
        ok: own.every((finding) => isOfEntry(finding) || inChain(finding)),
      },
      { name: `${subject}: each entry vouches for the one before it, up to the head`, ok: !own.some(inChain) },
    ];
  });
}

function isOfEntry(finding: Finding): boolean {
  return CHECK_OF_ENTRY.has(finding.code);
}

function outline({ subject, assembly, serial, devices }: ReadAudit): Finding[] {
  const findings: Finding[] = [];
  if (subject !== `${assembly}/${serial}`) {
    const what = `The file names ${subject} as its subject, but ${assembly}/${serial} as assembly and serial.`;
    findings.push(ofTheFile('subject-mismatch', what));
  }
  const seen = new Set<string>();
  const twice = new Set(devices.flatMap(({ subject: name }) => (seen.has(name) ? name : (seen.add(name), []))));
  for (const name of twice) {
    findings.push({ ledger: name, seq: null, code: 'device-twice', what: `The ledger of ${name} stands twice.` });
  }
  return findings;
}
