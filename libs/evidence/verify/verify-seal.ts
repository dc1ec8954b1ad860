import { canonicalMembers, objectText } from './canonical-members.js';
import type { HashText } from './hash-text.js';
import type { ReadAudit } from './read-audit.js';
import { asRecord } from './read-members.js';
import { ofTheFile, type Finding, type FindingCode, type Outcome } from './verification-report.js';
import type { CheckedLedger } from './verify-ledger.js';

export const SEALED = 'the seal of the file matches its content';

/** What has its cause in what the reader has, not in the file. */
const OUT_OF_FILE: ReadonlySet<FindingCode> = new Set([
  'key-untrusted',
  'key-malformed',
  'not-signed',
  'kept-foreign',
  'kept-forged',
  'kept-newer',
  'log-forked',
  'consistency-missing',
]);
/** What the seal is not over: itself, and from version 2 on what is signed over it. */
const OUTSIDE = { 1: ['seal'], 2: ['seal', 'statement'] } as const;
/** What follows what the seal is over, where a file is written as it is exported. */
const CANONICAL_END = /^,"seal":"[0-9a-f]{64}"(?:,"statement":(?:null|"[\w.-]*"))?\}\s*$/;

/**
 * The text that the seal is over: the canonical form of the document without the seal. Null where there is none.
 * @param checked the ledgers, the unit's first, whose entries have been written in canonical form already
 */
export function sealedText(audit: ReadAudit, [unit, ...devices]: readonly CheckedLedger[]): string | null {
  const { document, extras } = audit;
  if (!unit?.texts || !Array.isArray(document.devices)) return null;
  try {
    const lists = document.devices.map((device, index) => {
      const texts = devices[index]?.texts;
      if (!texts) throw new TypeError('An entry has no canonical form.');
      return objectText(canonicalMembers(asRecord(device) ?? {}, { entries: listText(texts) }));
    });
    const members = canonicalMembers(document, { entries: listText(unit.texts), devices: listText(lists) });
    return objectText(members, OUTSIDE[extras === null ? 1 : 2]);
  } catch {
    // A value without canonical form, or nesting deeper than the call stack.
    return null;
  }
}

/**
 * Whether the file is written as it is exported from version 2 on: in canonical form up to the seal. Then no key can stand
 * in it twice, and no number is written otherwise than it is read.
 */
export function isCanonical(json: string, sealed: string | null): boolean {
  if (sealed === null) return false;
  const open = sealed.slice(0, -1);
  return json.startsWith(open) && CANONICAL_END.test(json.slice(open.length));
}

/** Whether the seal is the one of the text. */
export function sealFits({ seal }: ReadAudit, sealed: string | null, hashText: HashText): boolean {
  return sealed !== null && hashText(sealed) === seal;
}

/**
 * Judges the seal. Nearly whatever else is found breaks it as well; only a seal broken by itself is a finding of its own.
 * @param others everything else that was found
 */
export function verifySeal({ seal }: ReadAudit, fits: boolean, others: readonly Finding[]): Outcome {
  const checks = [{ name: SEALED, ok: fits }];
  if (seal === null) {
    return { checks, findings: [ofTheFile('seal-missing', 'The file carries no seal.')], notes: [] };
  }
  if (fits || others.some(({ code }) => !OUT_OF_FILE.has(code))) return { checks, findings: [], notes: [] };
  const what =
    'The file was changed outside its ledgers: the unit summary, the configuration, another member beside the ' +
    'entries, or the seal. The entries themselves are sound.';
  return { checks, findings: [ofTheFile('document-changed', what)], notes: [] };
}

function listText(texts: readonly string[]): string {
  return `[${texts.join(',')}]`;
}
