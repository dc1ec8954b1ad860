import { StreamKey } from '../../domain/subject/subject.js';
import { KeptEntry, RecountReads } from '../ports/recount-store.js';

/** Entries read at once: few megabytes, however long the ledgers are. */
const PAGE = 1000;

/** All entries of these ledgers, by key and sequence. */
export async function* ledgerPages(
  reads: RecountReads,
  keys: readonly StreamKey[],
): AsyncIterable<readonly KeptEntry[]> {
  if (keys.length === 0) return;
  for (let after: { subject: StreamKey; seq: number } | null = null; ;) {
    const page: readonly KeptEntry[] = await reads.entries(keys, after, PAGE);
    if (page.length > 0) yield page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last;
  }
}
