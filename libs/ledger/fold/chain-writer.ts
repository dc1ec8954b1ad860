import { StreamKey } from '../../domain/subject/subject.js';
import { StoredEntry, SubjectRecord } from '../ports/book-store.js';
import { EntryBody, GENESIS_HASH, Seal, SealedEntry } from '../ports/seal.js';

interface Head {
  seq: number;
  hash: string;
}

/** Appends entries to the ledgers of one transaction, each sealed after the one before it. */
export class ChainWriter {
  readonly entries: StoredEntry[] = [];
  private readonly heads = new Map<StreamKey, Head>();

  constructor(
    private readonly seal: Seal,
    private readonly recordedAt: string,
  ) {}

  /** Takes a ledger as the transaction found it. */
  know(record: Pick<SubjectRecord, 'key' | 'headSeq' | 'headHash'>): void {
    if (!this.heads.has(record.key)) this.heads.set(record.key, { seq: record.headSeq, hash: record.headHash });
  }

  head(key: StreamKey): Readonly<Head> {
    return this.heads.get(key) ?? { seq: 0, hash: GENESIS_HASH };
  }

  append(body: Omit<EntryBody, 'seq' | 'recordedAt'>): SealedEntry {
    const { actor, data, effects, event, rules, subject, time, type } = body;
    const head = this.head(subject);
    const { recordedAt } = this;
    // Member by member: copied as a whole, each entry had a shape of its own, and all that reads them was slow.
    const entry: SealedEntry = {
      actor,
      data,
      effects,
      event,
      prevHash: head.hash,
      recordedAt,
      rules,
      seq: head.seq + 1,
      subject,
      time,
      type,
      hash: '',
    };
    const { bytes, hash } = this.seal.sealEntry(entry, head.hash);
    entry.hash = hash;
    this.entries.push({ entry, bytes });
    this.heads.set(subject, { seq: entry.seq, hash });
    return entry;
  }
}
