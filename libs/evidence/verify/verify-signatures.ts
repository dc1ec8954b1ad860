import { canonicalJson } from '../canonical-json.js';
import type { HashText } from './hash-text.js';
import type { ReadAudit, ReadLedger } from './read-audit.js';
import { asRecord } from './read-members.js';
import { outcomeOf, together, type Finding, type Outcome, type Say } from './verification-report.js';
import { verifyPeople, type OpenedPeople } from './verify-people.js';
import { verifyTraces } from './verify-traces.js';

/** Entries that a person has to sign; docs/audit-format.md lists them. */
const SIGNED_TYPES: ReadonlySet<unknown> = new Set([
  'heatbook.hold.disposed.v1',
  'heatbook.hold.released.v1',
  'heatbook.concession.signed.v1',
  'heatbook.concession.withdrawn.v1',
  'heatbook.entry.annulled.v1',
]);

/** A signature of a person as it stands in an entry; its members are not yet believed to be any. */
export interface EntrySignature {
  readonly ledger: string;
  readonly seq: number;
  readonly entry: Readonly<Record<string, unknown>>;
  readonly signed: Readonly<Record<string, unknown>>;
  readonly signature: Readonly<Record<string, unknown>>;
}

/** Checks what people signed in the entries, and the commitments to their printed names that version 2 opens. */
export function verifySignatures(audit: ReadAudit, ledgers: readonly ReadLedger[], hashText: HashText): Outcome {
  const { extras } = audit;
  const people = verifyPeople(extras?.people ?? [], hashText);
  const findings: Finding[] = [];
  const unopened = new Set<string>();
  let signatures = 0;
  for (const { subject: ledger, entries } of ledgers) {
    const say: Say = (seq, code, what) => ({ ledger, seq, code, what });
    entries.forEach((value, index) => {
      const entry = asRecord(value);
      const data = asRecord(entry?.data);
      if (entry === null || data === null) return;
      const place = typeof entry.seq === 'number' ? entry.seq : index + 1;
      const [signed, signature] = [asRecord(data.signed), asRecord(data.signature)];
      if (signed !== null && signature !== null) {
        signatures += 1;
        findings.push(...verifySignature({ ledger, seq: place, entry, signed, signature }, say, hashText));
        findings.push(...verifyName(signature, place, people, unopened, say));
      } else if (SIGNED_TYPES.has(entry.type)) {
        const what = `Entry ${place} is of a kind that a person signs (${String(entry.type)}), and has no signature.`;
        findings.push(say(place, 'signature-missing', what));
      }
    });
  }
  const name = `the signatures in entries (${signatures}) are over what the entries say`;
  const parts = [outcomeOf(name, findings)];
  if (extras !== null) parts.push(outcomeOf('printed names fit what signatures commit to', people.findings));
  if (extras !== null) parts.push(verifyTraces(extras.traces, ledgers));
  return together([...parts, { checks: [], findings: [], notes: unopenedNote(unopened, extras !== null) }]);
}

function verifySignature(
  { seq, entry, signed, signature }: EntrySignature,
  say: Say,
  hashText: HashText,
): readonly Finding[] {
  const contentHash = hashOf(signed, hashText);
  if (contentHash === null || typeof signature.contentHash !== 'string') {
    return [say(seq, 'signature-malformed', `The signature of entry ${seq} has no hash of what is signed.`)];
  }
  if (contentHash !== signature.contentHash) {
    const what = `The signature of entry ${seq} is over something else: "signed" does not give its "contentHash".`;
    return [say(seq, 'signature-broken', what)];
  }
  const odd = disagreement(entry, signed, signature);
  if (odd === null) return [];
  return [say(seq, 'signature-mismatch', `The signature of entry ${seq} does not belong to it: ${odd}.`)];
}

/** Where what is signed, the signature and the entry say the same thing, they have to agree. */
function disagreement(
  entry: EntrySignature['entry'],
  signed: EntrySignature['signed'],
  signature: EntrySignature['signature'],
): string | null {
  for (const name of ['by', 'at', 'meaning', 'named', 'printedName']) {
    if (!same(signature[name], signed[name])) return `"${name}" is one thing in "signed" and another in "signature"`;
  }
  const actor = asRecord(entry.actor)?.name;
  if (actor !== signature.by) return `it is by ${words(signature.by)}, the entry by ${words(actor)}`;
  const data = asRecord(entry.data) ?? {};
  for (const name of ['hold', 'note', 'containment', 'concession']) {
    if (name in data && name in signed && !same(data[name], signed[name])) return `it is about another "${name}"`;
  }
  if (signed.act !== 'annul') return null;
  if (signed.subject !== entry.subject) return `it strikes an event of ${words(signed.subject)}`;
  return same(signed.event, entry.event) ? null : 'it strikes another event';
}

function verifyName(
  signature: EntrySignature['signature'],
  seq: number,
  people: OpenedPeople,
  unopened: Set<string>,
  say: Say,
): Finding[] {
  const { named, by } = signature;
  if (named === undefined) return [];
  const opened = typeof named === 'string' ? people.byCommitment.get(named) : undefined;
  if (opened === undefined) {
    unopened.add(words(named));
    return [];
  }
  if (opened.printedName === null) unopened.add(words(named));
  if (opened.name === by) return [];
  const what = `Entry ${seq} is signed by ${words(by)}, but its commitment is the one of ${opened.name}.`;
  return [say(seq, 'signature-mismatch', what)];
}

function unopenedNote(unopened: ReadonlySet<string>, hasPeople: boolean): string[] {
  if (unopened.size === 0 || !hasPeople) return [];
  const names = unopened.size === 1 ? 'One printed name is' : `${unopened.size} printed names are`;
  return [`${names} not told: erased, or not for this reader. Who signed stands there by account, and the hash holds.`];
}

function hashOf(value: unknown, hashText: HashText): string | null {
  try {
    return hashText(canonicalJson(value));
  } catch {
    return null;
  }
}

function same(left: unknown, right: unknown): boolean {
  if (left === undefined || right === undefined) return left === right;
  try {
    return canonicalJson(left) === canonicalJson(right);
  } catch {
    return false;
  }
}

function words(value: unknown): string {
  return typeof value === 'string' ? value : 'nobody';
}
