import { StreamKey } from '../domain/subject/subject.js';
import { BookChanges } from '../ledger/ports/book-store.js';
import { GENESIS_HASH } from '../ledger/ports/seal.js';

/** The last entry of a ledger: its sequence and hash, or 0 and the genesis hash. */
export interface Head {
  readonly seq: number;
  readonly hash: string;
}

/**
 * Follows the entries of a write from the heads that were read under lock.
 * @returns the heads as they are then.
 * @throws Error where an entry is not the next one, names another predecessor, or a record states another head.
 */
export function followChains(known: ReadonlyMap<StreamKey, Head>, changes: BookChanges): ReadonlyMap<StreamKey, Head> {
  const heads = new Map<StreamKey, Head>();
  const headOf = (key: StreamKey): Head => heads.get(key) ?? known.get(key) ?? { seq: 0, hash: GENESIS_HASH };
  for (const { entry } of changes.entries) {
    const { subject, seq, prevHash, hash } = entry;
    const head = headOf(subject);
    if (seq !== head.seq + 1)
      throw new Error(`entry ${String(seq)} of ${subject} does not follow entry ${String(head.seq)}`);
    if (prevHash !== head.hash)
      throw new Error(`entry ${String(seq)} of ${subject} names another predecessor than the head`);
    heads.set(subject, { seq, hash });
  }
  for (const { key, headSeq, headHash } of [...changes.subjects, ...(changes.heads ?? [])]) {
    const head = headOf(key);
    if (head.seq !== headSeq || head.hash !== headHash) {
      throw new Error(
        `the ledger of ${key} ends at entry ${String(head.seq)}, not at the head ${String(headSeq)} that is written`,
      );
    }
    heads.set(key, head);
  }
  return heads;
}
