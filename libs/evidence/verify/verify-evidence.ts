import type { Checkpoint } from '../../ledger/log/notes/checkpoint.js';
import type { Digests } from '../digests.js';
import { parseJws } from '../log/jws.js';
import { keyRing, type KeyList, type KeyRing } from './key-ring.js';
import type { Kept } from './kept.js';
import type { ReadAudit, ReadLedger } from './read-audit.js';
import { readLog, type ReadLog } from './read-log.js';
import { Malformed } from './read-members.js';
import { underCheckpoint } from './under-checkpoint.js';
import { notShown, ofTheFile, outcomeOf, together, type Finding, type Outcome } from './verification-report.js';
import { CHECKPOINT_CODES, verifyCheckpoint } from './verify-checkpoint.js';
import { verifyKept } from './verify-kept.js';
import { verifyStatement } from './verify-statement.js';

const KEYS = 'the keys of the house follow each other';
const SIGNED_LOG = 'the checkpoint of the log is signed by the house';
const BY_KEY = 'what is signed is signed with the key that you gave, or one that it leads to';
const NOTHING_SIGNED = 'You gave a key, and nothing in the file is signed by anybody.';
const ONLY_LOG_SIGNED =
  'You gave a key, and the file carries no statement signed by the house: it was taken out, or made by a process without ' +
  'the key. Entries that the log is not shown to have, unit summary, holds and configuration can be by anybody. Ask for ' +
  'an export that is signed.';
const VERSION_1 =
  'A file of version 1 is signed by nobody and names no log, and any file can be made to look like one: export it again.';
const NO_LOG = 'The file carries nothing of the log: whether a ledger was told anew, the statement alone can show.';

/** What was read, and what its content came to already. */
interface Read {
  readonly audit: ReadAudit;
  readonly ledgers: readonly ReadLedger[];
  readonly found: readonly Finding[];
}

/** Checks what the house signed and what the site-wide log shows: the part that a file cannot make up by itself. */
export async function verifyEvidence(read: Read, digests: Digests, kept: Kept): Promise<Outcome> {
  const { audit } = read;
  if (audit.extras === null) return ofVersion1(kept);
  let log: ReadLog | null;
  try {
    log = readLog(audit.extras);
  } catch (error) {
    if (!(error instanceof Malformed)) throw error;
    return outcomeOf(SIGNED_LOG, [ofTheFile('log-malformed', `The log cannot be read: ${error.message}.`)]);
  }
  const ring = await keyRing(log ?? keysOfStatement(audit), kept.key, digests);
  const parts = [outcomeOf(KEYS, ring.findings, ring.notes), await verifyStatement(audit, ring, digests)];
  let checkpoint: Checkpoint | undefined;
  if (log === null) {
    parts.push(notShown(SIGNED_LOG, [NO_LOG]));
  } else {
    const signed = await verifyCheckpoint(
      'The checkpoint',
      log.checkpoint,
      log.origin,
      ring,
      CHECKPOINT_CODES,
      digests,
    );
    checkpoint = signed.checkpoint;
    parts.push(outcomeOf(SIGNED_LOG, signed.findings));
    if (checkpoint) parts.push(underCheckpoint(read.ledgers, read.found, log, checkpoint, digests));
  }
  if (kept.checkpoint !== undefined) {
    parts.push(await verifyKept(audit, log && checkpoint ? { log, checkpoint, ring } : null, kept, digests));
  }
  return together([...parts, byKey(audit, log, ring, kept)]);
}

/** Where there is no log, the statement alone names a key. */
function keysOfStatement({ extras, exportedAt }: ReadAudit): KeyList {
  const vkey = typeof extras?.statement === 'string' ? parseJws(extras.statement)?.header.kid : undefined;
  const since = typeof exportedAt === 'string' ? exportedAt : '';
  return { origin: '', keys: vkey === undefined ? [] : [{ vkey, since, endorsement: null }] };
}

function ofVersion1({ key, checkpoint }: Kept): Outcome {
  if (key === undefined && checkpoint === undefined) return notShown(SIGNED_LOG, [VERSION_1]);
  const what = 'A file of version 1 is signed by nobody and names no log: export it again, and check that one.';
  return outcomeOf(SIGNED_LOG, [ofTheFile('not-signed', what)]);
}

/** By whose word the keys are the house's. */
function byKey({ extras }: ReadAudit, log: ReadLog | null, ring: KeyRing, { key }: Kept): Outcome {
  const unsigned = extras?.statement === null;
  if (key === undefined) {
    const newest = unsigned && log === null ? undefined : (log?.keys.at(-1)?.vkey ?? 'the one of the statement');
    return { checks: [], findings: [], notes: newest === undefined ? [] : [onTrust(newest)] };
  }
  if (!unsigned) return { checks: [{ name: BY_KEY, ok: ring.trusted.length > 0 }], findings: [], notes: [] };
  // Whoever retells a story can take the statement and the proofs out: beside a key, what is missing is a fault.
  return outcomeOf(BY_KEY, [ofTheFile('not-signed', log === null ? NOTHING_SIGNED : ONLY_LOG_SIGNED)]);
}

/** What to do where no key was given. */
export function onTrust(vkey: string): string {
  return (
    `That the key is the house's is taken on trust from the file itself. Compare it with one that you get by another way ` +
    `(from the house's own address at /v1/log/keys, a contract, a telephone), and give that one as well: ${vkey}`
  );
}
