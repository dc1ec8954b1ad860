import { StreamKey } from '../../domain/subject/subject.js';
import { marksOf } from '../containment/marks-of.js';
import { SubjectRecord } from '../ports/book-store.js';
import { KeptEntry } from '../ports/recount-store.js';
import { entryOf, GENESIS_HASH, SealedEntry } from '../ports/seal.js';
import { hourOf } from './check-marks.js';
import { inShort } from './difference.js';
import { RecountWork } from './recount-work.js';

interface Head {
  readonly seq: number;
  readonly hash: string;
}

/** Follows the entries of ledgers, in order within each, and tells where hash, chain or head are not as they must be. */
export class LedgerWalk {
  readonly #heads = new Map<StreamKey, Head>();

  constructor(private readonly work: RecountWork) {}

  /** @returns what the bytes say; undefined where they cannot be read. */
  take(kept: KeptEntry): SealedEntry | undefined {
    const { subject, seq, hash, bytes } = kept;
    const { tell, seal, counts } = this.work;
    const head = this.#heads.get(subject) ?? { seq: 0, hash: GENESIS_HASH };
    this.#heads.set(subject, { seq, hash });
    counts.entries += 1;
    for (let lost = head.seq + 1; lost < seq; lost += 1) {
      tell({ subject, what: `entry ${lost}`, kept: 'none', recomputed: `one before entry ${seq}` });
    }
    const said = seal.sha256Hex(bytes);
    if (said !== hash) tell({ subject, what: `entry ${seq}, hash of its bytes`, kept: hash, recomputed: said });
    const entry = this.#read(kept);
    if (entry === undefined) return undefined;
    if (entry.subject !== subject || entry.seq !== seq) {
      tell({ subject, what: `entry ${seq}, its place`, kept: place(kept), recomputed: place(entry) });
    }
    if (seq === head.seq + 1 && entry.prevHash !== head.hash) {
      tell({ subject, what: `entry ${seq}, hash of the one before`, kept: entry.prevHash, recomputed: head.hash });
    }
    this.#compareFiling(kept, entry);
    return entry;
  }

  /** Compares the head that is kept with the last entry. */
  end(subject: StreamKey, record: SubjectRecord | undefined): void {
    const { seq, hash } = this.#heads.get(subject) ?? { seq: 0, hash: GENESIS_HASH };
    this.#heads.delete(subject);
    this.work.counts.ledgers += 1;
    const { headSeq, headHash } = record ?? { headSeq: 0, headHash: GENESIS_HASH };
    if (record === undefined && seq > 0) {
      this.work.tell({ subject, what: 'subject', kept: 'none', recomputed: `a ledger of ${seq} entries` });
    } else if (headSeq !== seq || headHash !== hash) {
      const what = 'head of the ledger';
      this.work.tell({ subject, what, kept: `${headSeq} ${headHash}`, recomputed: `${seq} ${hash}` });
    }
  }

  #read(kept: KeptEntry): SealedEntry | undefined {
    try {
      return entryOf(kept);
    } catch (error) {
      const { subject, seq } = kept;
      const why = error instanceof Error ? error.message : String(error);
      this.work.tell({ subject, what: `entry ${seq}`, kept: 'bytes that are no entry', recomputed: inShort(why) });
      return undefined;
    }
  }

  #compareFiling({ subject, seq, filed }: KeptEntry, entry: SealedEntry): void {
    const { happenedAt, marks } = marksOf(entry);
    for (const mark of marks) this.work.marks.add(mark, hourOf(happenedAt), subject, seq);
    const { type, event, recordedAt } = entry;
    const told = { type, event, recordedAt: new Date(recordedAt).toISOString(), happenedAt };
    if (this.work.seal.canonical(filed) === this.work.seal.canonical(told)) return;
    this.work.tell({
      subject,
      what: `entry ${seq}, what it is looked up by`,
      kept: inShort(filed),
      recomputed: inShort(told),
    });
  }
}

function place({ subject, seq }: { readonly subject: string; readonly seq: number }): string {
  return `entry ${seq} of ${subject}`;
}
