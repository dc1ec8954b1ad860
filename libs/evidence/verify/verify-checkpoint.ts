import { checkNote } from '../../ledger/log/notes/check-note.js';
import { parseCheckpoint, type Checkpoint } from '../../ledger/log/notes/checkpoint.js';
import { parseNote } from '../../ledger/log/notes/signed-note.js';
import type { Digests } from '../digests.js';
import type { KeyRing } from './key-ring.js';
import { ofTheFile, type Finding, type FindingCode } from './verification-report.js';

/** What the checkpoint of a file is found as. */
export const CHECKPOINT_CODES = {
  malformed: 'checkpoint-malformed',
  foreign: 'checkpoint-foreign',
  forged: 'checkpoint-forged',
} as const;

export interface CheckedCheckpoint {
  /** What it says, whoever signed it; undefined where it cannot be read. */
  readonly checkpoint: Checkpoint | undefined;
  readonly findings: readonly Finding[];
}

/**
 * Checks a signed checkpoint (C2SP tlog-checkpoint in a signed note): that it is one, of this log, signed by a key of it.
 * @param what begins the sentences
 * @param origin of the log that it should be of
 */
export async function verifyCheckpoint(
  what: string,
  note: string,
  origin: string,
  ring: KeyRing,
  codes: Record<'malformed' | 'foreign' | 'forged', FindingCode>,
  digests: Digests,
): Promise<CheckedCheckpoint> {
  const text = parseNote(note)?.text;
  const checkpoint = text === undefined ? undefined : parseCheckpoint(text);
  if (checkpoint === undefined) {
    return { checkpoint, findings: [ofTheFile(codes.malformed, `${what} is no signed checkpoint of a log.`)] };
  }
  if (checkpoint.origin !== origin) {
    const foreign = `${what} is of the log ${checkpoint.origin}, not of ${origin}.`;
    return { checkpoint, findings: [ofTheFile(codes.foreign, foreign)] };
  }
  if (await isSignedBy(ring.trusted)) return { checkpoint, findings: [] };
  if (await isSignedBy(ring.all)) {
    const untrusted = `${what} is signed with a key that is not known to be the house's: ${ring.gap}.`;
    return { checkpoint, findings: [ofTheFile('key-untrusted', untrusted)] };
  }
  const forged = `${what} is not signed by any key of the log: it was changed, or made by somebody else.`;
  return { checkpoint, findings: [ofTheFile(codes.forged, forged)] };

  async function isSignedBy(keys: KeyRing['all']): Promise<boolean> {
    const own = keys.filter(({ name }) => name === origin);
    return (await checkNote(note, own, digests.verifyEd25519)) !== undefined;
  }
}
