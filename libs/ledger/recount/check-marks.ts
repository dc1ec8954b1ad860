import { StreamKey } from '../../domain/subject/subject.js';
import { marksOf } from '../containment/marks-of.js';
import { KeptMark } from '../ports/recount-store.js';
import { entryOf } from '../ports/seal.js';
import { ledgerPages } from './ledger-pages.js';
import { bucketOf, MarkSums } from './mark-sums.js';
import { RecountWork } from './recount-work.js';

const KEYS = 500;
/** Buckets that are gone through mark by mark; of more there is only said that there are. */
const NAMED_BUCKETS = 64;

/** The hour that marks of a fact of that time are kept under. */
export function hourOf(happenedAt: string | null): string {
  return happenedAt === null ? '-infinity' : `${happenedAt.slice(0, 13)}:00:00Z`;
}

/**
 * Compares the marks that entries are found by with those that the entries have. Sums of both first; where these are not
 * the same, the marks of the ledgers concerned one by one.
 */
export async function checkMarks(work: RecountWork): Promise<void> {
  const kept = new MarkSums();
  for await (const page of work.reads.marks()) {
    for (const { mark, hour, subject, seq } of page) kept.add(mark, hour, subject, seq);
    work.counts.marks += page.length;
  }
  const unlike = [...work.marks.unlike(kept)];
  if (unlike.length === 0) return;
  const more = unlike.length - NAMED_BUCKETS;
  if (more > 0) {
    const recomputed = `others, in ${more} more parts of ${work.counts.ledgers} ledgers`;
    work.tell({ subject: 'marks', what: 'marks', kept: 'not as entries have them', recomputed });
  }
  await nameMarks(work, new Set(unlike.slice(0, NAMED_BUCKETS)));
}

async function nameMarks(work: RecountWork, buckets: ReadonlySet<number>): Promise<void> {
  const told = await marksTold(work, buckets);
  for await (const page of work.reads.marks()) {
    for (const one of page) {
      const { subject, seq, mark } = one;
      if (!buckets.has(bucketOf(subject)) || told.delete(keyOf(one))) continue;
      work.tell({ subject, what: `mark "${mark}" of entry ${seq}`, kept: one.hour, recomputed: 'none' });
    }
  }
  for (const { subject, seq, mark, hour } of told.values()) {
    work.tell({ subject, what: `mark "${mark}" of entry ${seq}`, kept: 'none', recomputed: hour });
  }
}

async function marksTold({ reads }: RecountWork, buckets: ReadonlySet<number>): Promise<Map<string, KeptMark>> {
  const told = new Map<string, KeptMark>();
  for (let after: StreamKey | null = null; ;) {
    const page = await reads.subjects(after, KEYS);
    const keys = page.map(({ key }) => key).filter((key) => buckets.has(bucketOf(key)));
    for await (const entries of ledgerPages(reads, keys)) {
      for (const kept of entries) {
        const { subject, seq } = kept;
        const { happenedAt, marks } = marksOf(entryOf(kept));
        for (const mark of marks) {
          const one = { mark, hour: hourOf(happenedAt), subject, seq };
          told.set(keyOf(one), one);
        }
      }
    }
    const last = page.at(-1);
    if (last === undefined || page.length < KEYS) return told;
    after = last.key;
  }
}

function keyOf({ mark, hour, subject, seq }: KeptMark): string {
  return `${mark}\n${hour}\n${subject}\n${seq}`;
}
