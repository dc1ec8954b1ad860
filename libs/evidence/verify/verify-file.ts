import { parseCheckpoint } from '../../ledger/log/notes/checkpoint.js';
import { parseNote } from '../../ledger/log/notes/signed-note.js';
import type { Digests } from '../digests.js';
import { keyRing } from './key-ring.js';
import type { Kept } from './kept.js';
import { MOST_FILE_BYTES } from './open-archive.js';
import type { RandomAccess } from './random-access.js';
import { outcomeOf, type VerificationReport } from './verification-report.js';
import { verifyArchive } from './verify-archive.js';
import { LIMITS, unreadable, verifyAudit } from './verify-audit.js';
import { CHECKPOINT_CODES, verifyCheckpoint } from './verify-checkpoint.js';

/** The first two bytes of every record of a ZIP file. */
const ZIP_MARK = [0x50, 0x4b];

/** Checks whatever the house hands out: an audit as JSON, an archive of many, a signed checkpoint. */
export async function verifyFile(source: RandomAccess, digests: Digests, kept: Kept = {}): Promise<VerificationReport> {
  const start = await source.read(0, ZIP_MARK.length);
  if (ZIP_MARK.every((byte, index) => start[index] === byte)) return verifyArchive(source, digests, kept);
  if (source.size > MOST_FILE_BYTES) {
    const message = `The file has ${source.size} bytes, and more than ${MOST_FILE_BYTES} cannot be read as one text.`;
    return unreadable('audit', { code: 'too-big', message });
  }
  const text = utf8(await source.read(0, source.size));
  if (text === undefined) return unreadable('audit', { code: 'not-json', message: 'The file is no text in UTF-8.' });
  const checkpoint = parseCheckpoint(parseNote(text)?.text ?? '');
  return checkpoint ? verifyNote(text, checkpoint.origin, digests, kept) : verifyAudit(text, digests, kept);
}

async function verifyNote(note: string, origin: string, digests: Digests, { key }: Kept): Promise<VerificationReport> {
  if (key === undefined) {
    const message = 'A checkpoint by itself shows nothing without the key of the house: give that as well.';
    return unreadable('checkpoint', { code: 'key-needed', message });
  }
  const ring = await keyRing({ origin, keys: [] }, key, digests);
  const { findings } = await verifyCheckpoint('The checkpoint', note, origin, ring, CHECKPOINT_CODES, digests);
  const outcome = outcomeOf('the checkpoint is signed with the key that you gave', [...ring.findings, ...findings]);
  const holds = outcome.findings.length === 0;
  return {
    kind: 'checkpoint',
    holds,
    subject: origin,
    units: 0,
    entries: 0,
    ...outcome,
    tale: null,
    limits: LIMITS.anchored,
  };
}

function utf8(bytes: Uint8Array): string | undefined {
  try {
    // A byte that is not UTF-8 would otherwise be replaced without a word.
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}
