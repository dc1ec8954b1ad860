import { sealOfDocument } from './audit-document.js';
import { findingsInText } from './findings-in-text.js';
import { asRecord, readAudit, UnreadableAudit, type ReadAudit, type ReadLedger } from './read-audit.js';
import { placeOf, type Finding, type FindingCode, type VerificationReport } from './verification-report.js';
import { verifyLedger } from './verify-ledger.js';

const LIMITS =
  'A file by itself cannot show that it was not rewritten from its first line by whoever exported it, with every hash ' +
  'and the seal computed anew, or that entries were left off its end with count, headHash and seal made to fit. ' +
  'Compare headHash with one received earlier or by another way. The unit summary and the configuration are covered by ' +
  'the seal of the file alone. The hashes show that entries are as they were written, not that what was written is true.';

const READABLE = 'the file is whole and can be read';
const UNAMBIGUOUS = 'no name stands twice and every number can be read exactly';
const OUTLINE = 'it speaks of one unit, and names each device once';
const SEALED = 'the seal of the file matches its content';

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
 */
export function verifyAudit(text: string): VerificationReport {
  const json = text.startsWith('\uFEFF') ? text.slice(1) : text;
  try {
    return judge(readAudit(json), json);
  } catch (error) {
    if (!(error instanceof UnreadableAudit)) throw error;
    return {
      holds: false,
      subject: null,
      entries: 0,
      checks: [{ name: READABLE, ok: false }],
      findings: [{ ledger: null, seq: null, code: error.code, what: error.message }],
      limits: LIMITS,
    };
  }
}

function judge(audit: ReadAudit, json: string): VerificationReport {
  const ledgers = [unitLedger(audit), ...audit.devices];
  const textFindings = findingsInText(json, ledgers);
  const outlineFindings = outline(audit);
  const ambiguous = new Set(textFindings.map((finding) => placeOf(finding)));
  const ledgerFindings = ledgers.map((ledger) => {
    // One that read differently in another reader has no single content to hash.
    return verifyLedger(ledger).filter((finding) => !(isOfEntry(finding) && ambiguous.has(placeOf(finding))));
  });
  const found = [...textFindings, ...outlineFindings, ...ledgerFindings.flat()];
  const sealed = sealFits(audit);
  const findings = [...found, ...sealFindings(audit, sealed, found)];
  return {
    holds: findings.length === 0,
    subject: audit.subject,
    entries: ledgers.reduce((sum, ledger) => sum + ledger.entries.length, 0),
    checks: [
      { name: READABLE, ok: true },
      { name: UNAMBIGUOUS, ok: textFindings.length === 0 },
      { name: OUTLINE, ok: outlineFindings.length === 0 },
      ...ledgers.flatMap((ledger) => ledgerChecks(ledger, findings)),
      { name: SEALED, ok: sealed },
    ],
    findings,
    limits: LIMITS,
  };
}

/** Where subject and serial contradict each other, the entries say which was meant: one fault, not one more for them. */
function unitLedger({ unit, assembly, serial }: ReadAudit): ReadLedger {
  const named = `${assembly}/${serial}`;
  return asRecord(unit.entries[0])?.subject === named ? { ...unit, subject: named } : unit;
}

function ledgerChecks({ subject }: ReadLedger, findings: Finding[]): VerificationReport['checks'] {
  const own = findings.filter((finding) => finding.ledger === subject);
  const inChain = (finding: Finding) => CHECK_OF_CHAIN.has(finding.code);
  return [
    { name: `${subject}: every entry gives its hash`, ok: !own.some(isOfEntry) },
    {
      name: `${subject}: all entries are there, once, in order`,
      ok: own.every((finding) => isOfEntry(finding) || inChain(finding)),
    },
    { name: `${subject}: each entry vouches for the one before it, up to the head`, ok: !own.some(inChain) },
  ];
}

function isOfEntry(finding: Finding): boolean {
  return CHECK_OF_ENTRY.has(finding.code);
}

function outline({ subject, assembly, serial, devices }: ReadAudit): Finding[] {
  const findings: Finding[] = [];
  if (subject !== `${assembly}/${serial}`) {
    const what = `The file names ${subject} as its subject, but ${assembly}/${serial} as assembly and serial.`;
    findings.push({ ledger: null, seq: null, code: 'subject-mismatch', what });
  }
  const names = devices.map((device) => device.subject);
  for (const name of new Set(names.filter((name, index) => names.indexOf(name) !== index))) {
    findings.push({ ledger: name, seq: null, code: 'device-twice', what: `The ledger of ${name} stands twice.` });
  }
  return findings;
}

function sealFits(audit: ReadAudit): boolean {
  try {
    return audit.seal === sealOfDocument(audit.document);
  } catch {
    return false;
  }
}

/** Whatever else was found breaks the seal as well; only a seal broken by itself is a finding of its own. */
function sealFindings(audit: ReadAudit, sealed: boolean, found: Finding[]): Finding[] {
  if (audit.seal === null) {
    return [{ ledger: null, seq: null, code: 'seal-missing', what: 'The file carries no seal.' }];
  }
  if (sealed || found.length > 0) return [];
  const what =
    'The file was changed outside its ledgers: the unit summary, the configuration, another member beside the ' +
    'entries, or the seal. The entries themselves are sound.';
  return [{ ledger: null, seq: null, code: 'document-changed', what }];
}
