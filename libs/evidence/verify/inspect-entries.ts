import { GENESIS_HASH } from '../../ledger/ports/seal.js';
import { canonicalMembers, objectText, type CanonicalMembers } from './canonical-members.js';
import type { ReadLedger } from './read-audit.js';
import { asRecord } from './read-members.js';
import type { HashText } from './hash-text.js';

/** What is wrong with an entry taken by itself. */
type EntryFault =
  | { kind: 'malformed'; problem: string }
  /** The content does not give the stated hash. */
  | { kind: 'changed' }
  /** The content is what its neighbour vouches for; only the stated hash is another. */
  | { kind: 'hash-changed' }
  /** Under its true number the content gives the stated hash. */
  | { kind: 'renumbered'; stated: number };

/** An entry with the number that belongs to it, as far as hashes and links tell. */
export interface PlacedEntry {
  /** Position in the file, from 0. */
  at: number;
  /** The number that belongs to it. */
  place: number;
  prevHash: string | null;
  /** Its stated hash. */
  hash: string | null;
  /** The subject it names, where that is not the ledger's. */
  foreign: string | null;
  fault: EntryFault | null;
  /** Its canonical form with its hash; null where it has none. */
  text: string | null;
}

interface Draft extends Omit<PlacedEntry, 'place'> {
  seq: number | null;
  /** Kept where a fault is looked into. */
  members: CanonicalMembers | null;
  digest: string | null;
  place: number | null;
}

const HASH = /^[0-9a-f]{64}$/;
/** How far a renumbering is looked for, and how often, so that a wholly changed ledger costs no minutes. */
const SHIFT_REACH = 64;
const SHIFT_SEARCHES = 8;

/** Reads every entry of a ledger by itself and finds the number that belongs to each. Keeps the order of the file. */
export function inspectEntries(ledger: ReadLedger, hashText: HashText): PlacedEntry[] {
  const drafts = ledger.entries.map((entry, at) => draft(entry, at, ledger.subject, hashText));
  for (const entry of drafts) if (entry.fault === null) entry.place = entry.seq;
  if (drafts.some(({ fault }) => fault !== null)) placeFaulty(drafts, ledger.headHash, hashText);
  return drafts.map(({ at, place, seq, prevHash, hash, foreign, fault, text }) => ({
    at,
    place: place ?? seq ?? at + 1,
    prevHash,
    hash,
    foreign,
    fault,
    text,
  }));
}

function placeFaulty(drafts: readonly Draft[], headHash: string, hashText: HashText): void {
  const byHash = new Map<string, Draft>();
  const byPrevHash = new Map<string, Draft>();
  for (const entry of [...drafts].sort(soundFirst)) {
    if (entry.hash !== null && !byHash.has(entry.hash)) byHash.set(entry.hash, entry);
    if (entry.prevHash !== null && !byPrevHash.has(entry.prevHash)) byPrevHash.set(entry.prevHash, entry);
  }
  nameFaults(drafts, byHash, byPrevHash, headHash, hashText);
}

function nameFaults(
  drafts: readonly Draft[],
  byHash: Map<string, Draft>,
  byPrevHash: Map<string, Draft>,
  headHash: string,
  hashText: HashText,
): void {
  let lastShift = 0;
  let searches = SHIFT_SEARCHES;
  // From the end, so that an entry's successor is placed before it.
  for (const entry of [...drafts].reverse()) {
    if (entry.fault === null) continue;
    const linked = placeByLinks(entry, byHash, byPrevHash);
    if (entry.fault.kind === 'malformed') {
      entry.place = linked;
    } else if (entry.digest !== null && (byPrevHash.has(entry.digest) || entry.digest === headHash)) {
      entry.fault = { kind: 'hash-changed' };
      entry.place = entry.seq;
    } else if (entry.seq !== null) {
      const { seq } = entry;
      const wide = searches > 0 ? shifts() : [];
      const place = [linked, seq - lastShift, ...wide.map((shift) => seq - shift)].find((n) =>
        fits(entry, n, hashText),
      );
      if (place === undefined || place === null) searches -= 1;
      else {
        lastShift = seq - place;
        entry.fault = { kind: 'renumbered', stated: seq };
      }
      entry.place = place ?? linked;
    }
  }
}

/** The number an entry has by the word of a sound neighbour; null when none knows it. */
function placeByLinks(entry: Draft, byHash: Map<string, Draft>, byPrevHash: Map<string, Draft>): number | null {
  const successor = entry.hash === null ? undefined : byPrevHash.get(entry.hash);
  if (successor?.place && successor.place > 1) return successor.place - 1;
  if (entry.prevHash === GENESIS_HASH) return 1;
  const predecessor = entry.prevHash === null ? undefined : byHash.get(entry.prevHash);
  return predecessor?.place ? predecessor.place + 1 : null;
}

function fits(entry: Draft, seq: number | null, hashText: HashText): boolean {
  if (seq === null || seq < 1 || seq === entry.seq || entry.members === null) return false;
  const renumbered = entry.members.map(([name, text]) => [name, name === 'seq' ? `"seq":${seq}` : text] as const);
  return hashText(objectText(renumbered, ['hash'])) === entry.hash;
}

function shifts(): number[] {
  return Array.from({ length: SHIFT_REACH }, (_, index) => index + 1).flatMap((shift) => [shift, -shift]);
}

function soundFirst(a: Draft, b: Draft): number {
  return Number(a.fault !== null) - Number(b.fault !== null) || a.at - b.at;
}

function draft(value: unknown, at: number, subject: string, hashText: HashText): Draft {
  const entry = asRecord(value);
  const { hash, prevHash, subject: named } = entry ?? {};
  const members = entry === null ? null : membersOf(entry);
  const digest = members === null ? null : hashText(objectText(members, ['hash']));
  const fault = faultOf(entry === null ? 'it is no object' : problemOf(entry), digest, hash);
  return {
    at,
    seq: isPlace(entry?.seq) ? entry.seq : null,
    place: null,
    members: fault === null ? null : members,
    digest,
    prevHash: typeof prevHash === 'string' ? prevHash : null,
    hash: typeof hash === 'string' ? hash : null,
    foreign: typeof named === 'string' && named !== subject ? named : null,
    fault,
    text: members === null ? null : objectText(members),
  };
}

function isPlace(seq: unknown): seq is number {
  return typeof seq === 'number' && Number.isSafeInteger(seq) && seq > 0;
}

function faultOf(problem: string | null, digest: string | null, hash: unknown): EntryFault | null {
  if (problem !== null) return { kind: 'malformed', problem };
  if (digest === null) return { kind: 'malformed', problem: 'it holds a value without canonical form' };
  return digest === hash ? null : { kind: 'changed' };
}

function problemOf(entry: Readonly<Record<string, unknown>>): string | null {
  for (const name of ['subject', 'type', 'time', 'recordedAt']) {
    if (typeof entry[name] !== 'string') return `its "${name}" is no text`;
  }
  for (const name of ['event', 'actor', 'data', 'effects', 'rules']) {
    if (!Object.hasOwn(entry, name)) return `its "${name}" is missing`;
  }
  for (const name of ['prevHash', 'hash']) {
    const value = entry[name];
    if (typeof value !== 'string' || !HASH.test(value)) return `its "${name}" is no SHA-256 in lower-case hex`;
  }
  return isPlace(entry.seq) ? null : 'its "seq" is no number from 1 up';
}

function membersOf(entry: Readonly<Record<string, unknown>>): CanonicalMembers | null {
  try {
    return canonicalMembers(entry);
  } catch {
    // A lone surrogate, or nesting deeper than the call stack.
    return null;
  }
}
