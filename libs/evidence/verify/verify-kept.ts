import { isConsistent } from '../../ledger/log/merkle/check-proofs.js';
import { sameBytes } from '../../ledger/log/merkle/hashing.js';
import type { Checkpoint } from '../../ledger/log/notes/checkpoint.js';
import type { Digests } from '../digests.js';
import type { KeyRing } from './key-ring.js';
import { readKeptCheckpoint, type Kept } from './kept.js';
import type { ReadAudit, ReadLedger } from './read-audit.js';
import { consistencyOf, type ReadConsistency, type ReadLog } from './read-log.js';
import { asRecord, Malformed, Members } from './read-members.js';
import { ofTheFile, outcomeOf, type Finding, type Outcome } from './verification-report.js';
import { verifyCheckpoint } from './verify-checkpoint.js';

const CHECK = 'the log continues the checkpoint that you kept';
const NOT_ITS_KEYS =
  'The checkpoint that you kept is not signed by any key that the file names. If it has not changed since you had it from ' +
  'the house, the file is not from that house, or its keys were taken out: ask the house, by another way, for its keys.';
const CODES = { malformed: 'kept-forged', foreign: 'kept-foreign', forged: 'kept-forged' } as const;

/** The log of a file, with its checkpoint as it was read. */
interface LogNow {
  readonly log: ReadLog;
  readonly checkpoint: Checkpoint;
  readonly ring: KeyRing;
}

/**
 * Holds the file against a checkpoint from before, or against an audit from before, which places a story that was told anew
 * to the entry.
 * @param now null where the file has no log that could be held against it
 */
export async function verifyKept(audit: ReadAudit, now: LogNow | null, kept: Kept, digests: Digests): Promise<Outcome> {
  const old = readKeptCheckpoint(kept.checkpoint ?? '');
  if (old === undefined) {
    return outcomeOf(CHECK, [ofTheFile('kept-forged', 'What you kept is neither a checkpoint nor an audit with one.')]);
  }
  const told = old.audit === null ? [] : againstAudit(audit.unit, old.audit);
  if (now === null) {
    const what = 'The file carries no log that can be held against the checkpoint that you kept: export it again.';
    return outcomeOf(CHECK, [...told, ofTheFile('consistency-missing', what)]);
  }
  const { log, ring } = now;
  const { checkpoint, findings } = await verifyCheckpoint(
    'The checkpoint that you kept',
    old.note,
    log.origin,
    // What the reader has kept needs no key to vouch for it, and one from before a rotation has an older one than was given.
    { ...ring, trusted: ring.all },
    CODES,
    digests,
  );
  if (checkpoint === undefined) return outcomeOf(CHECK, [...told, ...findings]);
  if (findings.length > 0) return outcomeOf(CHECK, [...told, ...findings.map(blamingEither)]);
  return outcomeOf(CHECK, [...told, ...sinceThen(checkpoint, now, kept.proof, audit, digests)]);
}

/** Where the keys do not fit, it may as well be the file that is not the house's. */
function blamingEither(finding: Finding): Finding {
  return finding.code === CODES.forged ? { ...finding, what: NOT_ITS_KEYS } : finding;
}

function sinceThen(
  old: Checkpoint,
  { log, checkpoint }: LogNow,
  proof: string | undefined,
  { exportedAt }: ReadAudit,
  digests: Digests,
): Finding[] {
  const [from, to] = [old.size, checkpoint.size];
  if (from > to) {
    const when = typeof exportedAt === 'string' ? exportedAt : 'an unknown time';
    const what =
      `The log of this file has ${to} entries, and the checkpoint that you kept had ${from}. Either the file is older ` +
      `than your checkpoint (it says that it was made at ${when}): then export it again. Or the book was put back, and ` +
      `the last ${from - to} entries, or others in their place, are gone: then ask the house, and keep both.`;
    return [ofTheFile('kept-newer', what)];
  }
  if (from === to) {
    if (sameBytes(old.root, checkpoint.root)) return [];
    return [ofTheFile('log-forked', `Of ${from} entries each, the log and the checkpoint that you kept differ.`)];
  }
  const proofs = [...log.consistency, ...ownProof(proof)].filter((one) => one.from === from && one.to === to);
  if (from > 0 && proofs.length === 0) {
    const what =
      `Nothing in the file shows that its log of ${to} entries continues yours of ${from}. Fetch ` +
      `GET /v1/log/proofs/consistency?from=${from}&to=${to} and give it as well, or export the file again with ` +
      '--since-checkpoint and the checkpoint that you kept.';
    return [ofTheFile('consistency-missing', what)];
  }
  const claim = { from, to, fromRoot: old.root, toRoot: checkpoint.root };
  const paths = from === 0 ? [[]] : proofs.map(({ path }) => path);
  if (paths.some((path) => isConsistent(digests.sha256, { ...claim, path }))) return [];
  const what =
    `The log of ${to} entries does not continue yours of ${from}, or the proof was changed: entries that you could ` +
    'have seen are gone or others. Fetch the proof again; if it fails again, the log was written anew. A house that ' +
    'had to restore a backup has changed its key then, and says so, and what it broke with, in its ledger ~book.';
  return [ofTheFile('log-forked', what)];
}

/** What the reader fetched; nothing, where it cannot be read as a proof. */
function ownProof(text: string | undefined): ReadConsistency[] {
  if (text === undefined) return [];
  try {
    return [consistencyOf(Members.of(JSON.parse(text), ''))];
  } catch (error) {
    if (error instanceof Malformed || error instanceof SyntaxError) return [];
    throw error;
  }
}

/** Where the ledger of the file leaves the story that an audit of the same unit told before. */
function againstAudit({ subject, entries }: ReadLedger, { unit, exportedAt }: ReadAudit): Finding[] {
  if (unit.subject !== subject) return [];
  const at = unit.entries.findIndex((old, index) => asRecord(old)?.hash !== asRecord(entries[index])?.hash);
  if (at < 0) return [];
  const cut = at >= entries.length;
  const when = typeof exportedAt === 'string' ? exportedAt : 'before';
  const what = cut
    ? `Entry ${at + 1} of ${subject} and those after it are gone: the audit of ${when} has ${unit.entries.length}.`
    : `Entry ${at + 1} of ${subject} is another one than in the audit of ${when}: the story was told anew from there.`;
  return [{ ledger: subject, seq: at + 1, code: cut ? 'log-ahead' : 'story-forked', what }];
}
