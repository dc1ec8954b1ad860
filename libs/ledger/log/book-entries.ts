import { ChainWriter } from '../fold/chain-writer.js';
import { SealedEntry } from '../ports/seal.js';
import { BOOK_STREAM } from './log-evidence.js';
import { SiteLogDeps } from './site-log-deps.js';

/** What the book writes about itself. */
export const LOG_ENTRY_TYPES = {
  keyAdded: 'heatbook.log.key.added.v1',
  keyRotated: 'heatbook.log.key.rotated.v1',
  censusTaken: 'heatbook.census.taken.v1',
} as const;

/** An entry that the book is about to write about itself. */
export interface BookNote {
  readonly type: string;
  readonly data: object;
}

const PAGE = 500;

/**
 * Writes an entry into the book's own ledger.
 * @param decide told of every entry there is while nobody else can add one; undefined where there is nothing to write
 * @returns whether one was written
 */
export async function writeBookEntry(
  { store, seal, clock }: Pick<SiteLogDeps, 'store' | 'seal' | 'clock'>,
  decide: (entries: readonly SealedEntry[]) => BookNote | undefined,
): Promise<boolean> {
  return store.besideFolds(async (tx) => {
    const [record] = await tx.load([BOOK_STREAM]);
    if (record === undefined) throw new Error('The ledger of the book cannot be opened.');
    const note = decide(await tx.entries([BOOK_STREAM]));
    if (note === undefined) return false;
    const now = clock.now();
    const chain = new ChainWriter(seal, now);
    chain.know(record);
    const entry = { subject: BOOK_STREAM, time: now, event: null, actor: { kind: 'book' }, effects: [] };
    const { seq, hash } = chain.append({ ...entry, ...note, rules: await tx.setupVersion() });
    const subjects = [{ ...record, headSeq: seq, headHash: hash }];
    await tx.write({ subjects, entries: chain.entries, holds: [], done: [], parked: [], postponed: [] });
    return true;
  });
}

/** Entries of the book's own ledger of one type, oldest first, beginning after a sequence. */
export async function* bookEntries(
  reads: SiteLogDeps['reads'],
  type: string,
  afterSeq = 0,
): AsyncIterable<SealedEntry> {
  for (let after = afterSeq; ;) {
    const page = await reads.ledger(BOOK_STREAM, { limit: PAGE, order: 'asc', afterSeq: after, type });
    yield* page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last.seq;
  }
}

/** The newest entry of the book's own ledger of one type. */
export async function newestBookEntry(reads: SiteLogDeps['reads'], type: string): Promise<SealedEntry | undefined> {
  const [entry] = await reads.ledger(BOOK_STREAM, { limit: 1, order: 'desc', afterSeq: null, type });
  return entry;
}
