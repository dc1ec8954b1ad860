import { SealedEntry } from '../ports/seal.js';
import { bookEntries, LOG_ENTRY_TYPES, newestBookEntry, writeBookEntry } from './book-entries.js';
import { BOOK_STREAM, LogKey } from './log-evidence.js';
import { LogSigner } from './log-signer.js';
import { Sha256 } from './merkle/hashing.js';
import { signNote } from './notes/signed-note.js';
import { parseVerifierKey, VerifierKey } from './notes/verifier-key.js';
import { SiteLogDeps } from './site-log-deps.js';

/** Data of the entry by which the first key came. */
interface KeyAdded {
  readonly vkey: string;
  readonly origin: string;
}

/** Data of the entry by which another key took over. */
export interface KeyRotated {
  readonly vkey: string;
  /** Signed note by the key before it; null where that was lost. */
  readonly endorsement: string | null;
  /** Why, in words. */
  readonly note: string;
  /** Where the log was put back: the checkpoint that the log does not continue, as a signed note. */
  readonly restored?: { readonly from: string };
}

/** A key that cannot take over. The message says why and what would mend it. */
export class KeyRefused extends Error {
  override readonly name = 'KeyRefused';
}

/** Every key that checkpoints are or were signed with, oldest first. */
export async function logKeys(reads: SiteLogDeps['reads']): Promise<readonly LogKey[]> {
  const keys: LogKey[] = [];
  // The first key is the first entry of the book's ledger.
  const [first] = await reads.ledger(BOOK_STREAM, { limit: 1, order: 'asc', afterSeq: null });
  if (first?.type === LOG_ENTRY_TYPES.keyAdded) keys.push(keyOf(first));
  for await (const entry of bookEntries(reads, LOG_ENTRY_TYPES.keyRotated)) keys.push(keyOf(entry));
  return keys;
}

/** The key that checkpoints are signed with now, or undefined where there has been none. */
export async function currentKey(reads: SiteLogDeps['reads']): Promise<LogKey | undefined> {
  const entry =
    (await newestBookEntry(reads, LOG_ENTRY_TYPES.keyRotated)) ??
    (await newestBookEntry(reads, LOG_ENTRY_TYPES.keyAdded));
  return entry === undefined ? undefined : keyOf(entry);
}

/** Enters the key of this process as the first entry of the book's ledger, unless there is one already. */
export async function enterFirstKey(deps: SiteLogDeps): Promise<void> {
  const { signer, origin, reads } = deps;
  if (signer === undefined || (await currentKey(reads)) !== undefined) return;
  const data: KeyAdded = { vkey: signer.vkey, origin };
  await writeBookEntry(deps, (entries) => (entries.length > 0 ? undefined : { type: LOG_ENTRY_TYPES.keyAdded, data }));
}

/** What another key takes over by. */
export interface Rotation {
  readonly next: LogSigner;
  /** The key before it, which endorses the new one; undefined where it is lost. */
  readonly old: LogSigner | undefined;
  readonly note: string;
  readonly restoredFrom?: string;
}

/**
 * Lets another key sign from now on, on record.
 * @throws KeyRefused where the old one is not the newest on record, or the new one is known already
 */
export async function rotateKey(deps: SiteLogDeps, { next, old, note, restoredFrom }: Rotation): Promise<void> {
  const { origin, sha256 } = deps;
  const endorsement = old === undefined ? null : endorse(sha256, origin, old, next);
  const data: KeyRotated = {
    ...{ vkey: next.vkey, endorsement, note },
    ...(restoredFrom !== undefined && { restored: { from: restoredFrom } }),
  };
  await writeBookEntry(deps, (entries) => {
    const known = entries.filter(isKeyEntry).map(keyOf);
    const newest = known.at(-1);
    if (newest === undefined) {
      throw new KeyRefused('There is no key to take over from: start the services with this one, and it is the first.');
    }
    if (old !== undefined && old.vkey !== newest.vkey) {
      throw new KeyRefused(
        `Checkpoints are signed with ${newest.vkey}, and the key that is to endorse the new one is ${old.vkey}: ` +
          'give the former as HEATBOOK_SIGNING_KEY_FILE, or say --lost if it is gone.',
      );
    }
    if (known.some(({ vkey }) => vkey === next.vkey)) {
      throw new KeyRefused(`${next.vkey} is on record already: make a new one with "heatbook signing-key FILE".`);
    }
    return { type: LOG_ENTRY_TYPES.keyRotated, data };
  });
}

/** The key of a signer, taken apart. @throws Error for what is no verifier key */
export function keyOfSigner(sha256: Sha256, { vkey }: LogSigner): VerifierKey {
  const key = parseVerifierKey(vkey, sha256);
  if (key === undefined) throw new Error(`"${vkey}" is no verifier key.`);
  return key;
}

/** What the old key signs to say that the new one takes over. */
function endorse(sha256: Sha256, origin: string, old: LogSigner, next: LogSigner): string {
  const { name, keyId } = keyOfSigner(sha256, old);
  return signNote(`heatbook key\n${origin}\n${next.vkey}\n`, name, keyId, (message) => old.sign(message));
}

function isKeyEntry({ type }: SealedEntry): boolean {
  return type === LOG_ENTRY_TYPES.keyAdded || type === LOG_ENTRY_TYPES.keyRotated;
}

/** The book wrote these entries itself, so that their data fit. */
function keyOf({ data, recordedAt }: SealedEntry): LogKey {
  const { vkey, endorsement = null } = data as Partial<KeyRotated> & Pick<KeyRotated, 'vkey'>;
  return { vkey, since: recordedAt, endorsement };
}
