import { SubjectRecord } from '../ports/book-store.js';
import { ReadStore } from '../ports/read-store.js';
import { entryOf, GENESIS_HASH, SealedEntry } from '../ports/seal.js';
import { AuditLedger } from './audit-source.js';
import { BrokenLedger } from './broken-ledger.js';
import { AuditEntry, entryEnd } from './entry-parts.js';

/** Entries that are in memory at once. With 200 a long export takes some 5 % longer, and more on a busy machine. */
export const AUDIT_PAGE = 500;

type LedgerReads = Pick<ReadStore, 'ledgerBytes'>;
type Head = Pick<SubjectRecord, 'key' | 'headSeq' | 'headHash'>;

/**
 * A ledger as far as its record says, whatever has come since.
 * @param signal ends the reading: whoever reads no longer wants it
 */
export function openLedger(reads: LedgerReads, record: Head, signal?: AbortSignal): AuditLedger {
  const { key, headSeq, headHash } = record;
  const pages = (): AsyncGenerator<readonly AuditEntry[]> => pagesOf(reads, { key, headSeq, headHash }, signal);
  return { subject: key, count: headSeq, headHash, pages, entries: () => entriesOf(pages()) };
}

async function* entriesOf(pages: AsyncIterable<readonly AuditEntry[]>): AsyncGenerator<SealedEntry> {
  for await (const page of pages) {
    for (const entry of page) yield entryOf(entry);
  }
}

/** Reads each page once the one before is used up, and makes sure that each entry follows the one before. */
async function* pagesOf(
  reads: LedgerReads,
  { key, headSeq, headHash }: Head,
  signal: AbortSignal | undefined,
): AsyncGenerator<readonly AuditEntry[]> {
  let last = { seq: 0, hash: GENESIS_HASH };
  while (last.seq < headSeq) {
    signal?.throwIfAborted();
    const limit = Math.min(AUDIT_PAGE, headSeq - last.seq);
    const rows = await reads.ledgerBytes(key, { limit, afterSeq: last.seq === 0 ? null : last.seq });
    if (rows.length === 0) throw new BrokenLedger(key, `it ends with entry ${last.seq} of ${headSeq}`);
    const page: AuditEntry[] = [];
    for (const { bytes, hash } of rows) {
      const end = entryEnd(bytes);
      const follows = end.seq === last.seq + 1 && end.prevHash === last.hash && end.subject === key;
      if (!follows) throw new BrokenLedger(key, `no entry follows entry ${last.seq} of ${headSeq}`);
      page.push({ bytes, hash, end });
      last = { seq: end.seq, hash };
    }
    yield page;
  }
  if (last.hash !== headHash) throw new BrokenLedger(key, `its last entry, ${last.seq}, is not its head`);
}
