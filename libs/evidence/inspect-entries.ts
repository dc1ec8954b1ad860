import { GENESIS_HASH } from '../ledger/ports/seal.js';
import { canonicalJson } from './canonical-json.js';
import { asRecord, type ReadLedger } from './read-audit.js';
import { sha256Hex } from './seal.js';

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
}

interface Draft extends Omit<PlacedEntry, 'place'> {
  seq: number | null;
  body: Record<string, unknown>;
  digest: string | null;
  place: number | null;
}

const HASH = /^[0-9a-f]{64}$/;
/** How far a renumbering is looked for, and how often, so that a wholly changed ledger costs no minutes. */
const SHIFT_REACH = 64;
const SHIFT_SEARCHES = 8;

/** Reads every entry of a ledger by itself and finds the number that belongs to each. Keeps the order of the file. */
export function inspectEntries(ledger: ReadLedger): PlacedEntry[] {
  const drafts = ledger.entries.map((entry, at) => draft(entry, at, ledger.subject));
  for (const entry of drafts) if (entry.fault === null) entry.place = entry.seq;
  const byHash = new Map<string, Draft>();
  const byPrevHash = new Map<string, Draft>();
  for (const entry of [...drafts].sort(soundFirst)) {
    if (entry.hash !== null && !byHash.has(entry.hash)) byHash.set(entry.hash, entry);
    if (entry.prevHash !== null && !byPrevHash.has(entry.prevHash)) byPrevHash.set(entry.prevHash, entry);
  }
  nameFaults(drafts, byHash, byPrevHash, ledger.headHash);
  return drafts.map(({ at, place, seq, prevHash, hash, foreign, fault }) => ({
    at,
    place: place ?? seq ?? at + 1,
    prevHash,
    hash,
    foreign,
    fault,
  }));
}

function nameFaults(
  drafts: Draft[],
  byHash: Map<string, Draft>,
  byPrevHash: Map<string, Draft>,
  headHash: string,
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
      const place = [linked, seq - lastShift, ...wide.map((shift) => seq - shift)].find((n) => fits(entry, n));
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

function fits(entry: Draft, seq: number | null): boolean {
  return seq !== null && seq > 0 && seq !== entry.seq && digestOf({ ...entry.body, seq }) === entry.hash;
}

function shifts(): number[] {
  return Array.from({ length: SHIFT_REACH }, (_, index) => index + 1).flatMap((shift) => [shift, -shift]);
}

function soundFirst(a: Draft, b: Draft): number {
  return Number(a.fault !== null) - Number(b.fault !== null) || a.at - b.at;
}

function draft(entry: unknown, at: number, subject: string): Draft {
  const record = asRecord(entry);
  const { hash, ...body } = record ?? {};
  const problem = record === null ? 'it is no object' : problemOf(record);
  const digest = record === null ? null : digestOf(body);
  const seq = typeof body.seq === 'number' && Number.isSafeInteger(body.seq) && body.seq > 0 ? body.seq : null;
  return {
    at,
    seq,
    place: null,
    body,
    digest,
    prevHash: typeof body.prevHash === 'string' ? body.prevHash : null,
    hash: typeof hash === 'string' ? hash : null,
    foreign: typeof body.subject === 'string' && body.subject !== subject ? body.subject : null,
    fault: faultOf(problem, digest, hash),
  };
}

function faultOf(problem: string | null, digest: string | null, hash: unknown): EntryFault | null {
  if (problem !== null) return { kind: 'malformed', problem };
  if (digest === null) return { kind: 'malformed', problem: 'it holds a value without canonical form' };
  return digest === hash ? null : { kind: 'changed' };
}

function problemOf(record: Record<string, unknown>): string | null {
  for (const name of ['subject', 'type', 'time', 'recordedAt']) {
    if (typeof record[name] !== 'string') return `its "${name}" is no text`;
  }
  for (const name of ['event', 'actor', 'data', 'effects', 'rules']) {
    if (!(name in record)) return `its "${name}" is missing`;
  }
  for (const name of ['prevHash', 'hash']) {
    const value = record[name];
    if (typeof value !== 'string' || !HASH.test(value)) return `its "${name}" is no SHA-256 in lower-case hex`;
  }
  const { seq } = record;
  return typeof seq === 'number' && Number.isSafeInteger(seq) && seq > 0 ? null : 'its "seq" is no number from 1 up';
}

function digestOf(body: object): string | null {
  try {
    return sha256Hex(canonicalJson(body));
  } catch {
    return null;
  }
}
