import { SubjectRecord } from '../ports/book-store.js';
import { ReadStore } from '../ports/read-store.js';
import { GENESIS_HASH, SealedEntry } from '../ports/seal.js';
import { AuditLedger } from './audit-source.js';
import { BrokenLedger } from './broken-ledger.js';

/** Entries that are in memory at once. */
export const AUDIT_PAGE = 200;

/**
 * A ledger as far as its record says, whatever has come since.
 * @param signal ends the reading: whoever reads no longer wants it
 */
export function openLedger(
  reads: Pick<ReadStore, 'ledger'>,
  { key, headSeq, headHash }: Pick<SubjectRecord, 'key' | 'headSeq' | 'headHash'>,
  signal?: AbortSignal,
): AuditLedger {
  return {
    subject: key,
    count: headSeq,
    headHash,
    entries: () => entriesOf(reads, { key, headSeq, headHash }, signal),
  };
}

async function* entriesOf(
  reads: Pick<ReadStore, 'ledger'>,
  { key, headSeq, headHash }: Pick<SubjectRecord, 'key' | 'headSeq' | 'headHash'>,
  signal: AbortSignal | undefined,
): AsyncGenerator<SealedEntry> {
  let last = { seq: 0, hash: GENESIS_HASH };
  while (last.seq < headSeq) {
    signal?.throwIfAborted();
    const limit = Math.min(AUDIT_PAGE, headSeq - last.seq);
    const page = await reads.ledger(key, { limit, order: 'asc', afterSeq: last.seq === 0 ? null : last.seq });
    if (page.length === 0) throw new BrokenLedger(key, `it ends with entry ${last.seq} of ${headSeq}`);
    for (const entry of page) {
      const follows = entry.seq === last.seq + 1 && entry.prevHash === last.hash && entry.subject === key;
      if (!follows) throw new BrokenLedger(key, `no entry follows entry ${last.seq} of ${headSeq}`);
      yield entry;
      last = entry;
    }
  }
  if (last.hash !== headHash) throw new BrokenLedger(key, `its last entry, ${last.seq}, is not its head`);
}
