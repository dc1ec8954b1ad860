import { LogReads, LogTransaction } from '../ports/log-store.js';
import { SignedBefore } from '../ports/signed-before.js';
import { currentKey, keyOfSigner } from './log-keys.js';
import { LogSigner } from './log-signer.js';
import { LogTrouble } from './log-trouble.js';
import { sameBytes } from './merkle/hashing.js';
import { rootAt } from './merkle/merkle-proofs.js';
import { Checkpoint, checkpointText, parseCheckpoint } from './notes/checkpoint.js';
import { parseNote, signNote } from './notes/signed-note.js';
import { SiteLogDeps } from './site-log-deps.js';
import { storedSubtrees } from './stored-subtrees.js';

const HOW_TO_START_OVER =
  'Find out who put it back. If it was restored from a backup on purpose, stop everything, make a new key with ' +
  '"heatbook signing-key FILE" and say "heatbook rotate-key --key FILE --note WHY": the log goes on with that key, and ' +
  'the break stays on record.';

/**
 * Signs the log as it is, where it has grown since it was last signed; the log must continue what was signed before.
 * @throws LogTrouble where it does not, or where this key may not sign; nothing is signed then
 */
export async function signCheckpoint(deps: SiteLogDeps, tx: LogTransaction): Promise<void> {
  const { signer, sha256, clock, origin, signedBefore } = deps;
  if (signer === undefined) return;
  const [size, newest, signed] = [await tx.size(), await tx.checkpoint(), await readSigned(deps)];
  if (size === 0 && signed === undefined) return;
  if (newest !== undefined && newest.size === size && newest.note === signed?.note) return;
  if (signed !== undefined) await requireContinued(deps, tx, size, signed, 'this key signed');
  // One that a key before this signed may be broken with on purpose; the entry of this key says so then.
  if (newest !== undefined && isBy(deps, signer, newest.note)) {
    await requireContinued(deps, tx, size, newest, 'the database keeps');
  }
  if (newest?.size === size && isBy(deps, signer, newest.note)) return;
  await requireCurrent(deps, signer);
  const root = await rootAt(sha256, storedSubtrees(sha256, tx), size);
  const { name, keyId } = keyOfSigner(sha256, signer);
  const note = signNote(checkpointText({ origin, size, root }), name, keyId, (message) => signer.sign(message));
  // Before anyone can see it: the leaves are committed, so that a crash between here and the commit takes nothing back.
  await signedBefore.write(note);
  await tx.keepCheckpoint({ size, root, note, at: clock.now() });
}

/**
 * The checkpoint that a key signed last, as it is kept apart from the database, where the log does not continue it.
 * @returns the signed note; undefined where the log is whole, or nothing can be read that says otherwise
 */
export async function brokenFrom(
  { siteLog, sha256 }: Pick<SiteLogDeps, 'siteLog' | 'sha256'>,
  signedBefore: SignedBefore,
): Promise<string | undefined> {
  const note = await signedBefore.read();
  const signed = checkpointOf(note);
  if (signed === undefined) return undefined;
  return (await continues(sha256, siteLog, await siteLog.size(), signed)) ? undefined : note;
}

async function readSigned({
  signedBefore,
}: SiteLogDeps): Promise<(Checkpoint & { readonly note: string }) | undefined> {
  const note = await signedBefore.read();
  if (note === undefined) return undefined;
  const checkpoint = checkpointOf(note);
  if (checkpoint !== undefined) return { ...checkpoint, note };
  throw new LogTrouble(
    'the file with the last checkpoint that this key signed cannot be read, so nothing is signed. ' +
      'Put it back from a copy; if there is none, begin with a new key: ' +
      '"heatbook signing-key FILE", then "heatbook rotate-key --key FILE --note WHY".',
  );
}

function checkpointOf(note: string | undefined): Checkpoint | undefined {
  return note === undefined ? undefined : parseCheckpoint(parseNote(note)?.text ?? '');
}

async function requireContinued(
  { sha256 }: SiteLogDeps,
  tx: LogReads,
  size: number,
  before: Pick<Checkpoint, 'size' | 'root'>,
  whose: string,
): Promise<void> {
  if (await continues(sha256, tx, size, before)) return;
  const how =
    size < before.size
      ? `it has ${size} entries, and the last checkpoint that ${whose} has ${before.size}`
      : `its first ${before.size} entries are others than those of the last checkpoint that ${whose}`;
  throw new LogTrouble(`the database was put back or rewritten: ${how}. Nothing is signed. ${HOW_TO_START_OVER}`);
}

async function continues(
  sha256: SiteLogDeps['sha256'],
  log: Pick<LogReads, 'leavesAt' | 'nodes'>,
  size: number,
  before: Pick<Checkpoint, 'size' | 'root'>,
): Promise<boolean> {
  if (size < before.size) return false;
  return sameBytes(await rootAt(sha256, storedSubtrees(sha256, log), before.size), before.root);
}

function isBy({ sha256 }: SiteLogDeps, signer: LogSigner, note: string): boolean {
  const key = keyOfSigner(sha256, signer);
  return parseNote(note)?.signatures.some(({ keyId }) => sameBytes(keyId, key.keyId)) === true;
}

async function requireCurrent({ reads }: SiteLogDeps, signer: LogSigner): Promise<void> {
  const current = await currentKey(reads);
  if (current === undefined || current.vkey === signer.vkey) return;
  throw new LogTrouble(
    `this process has the key ${signer.vkey}, and checkpoints are signed with ${current.vkey}. Nothing is signed. ` +
      'Give it the latter as HEATBOOK_SIGNING_KEY_FILE, or let its own take over: "heatbook rotate-key --key FILE --note WHY".',
  );
}
