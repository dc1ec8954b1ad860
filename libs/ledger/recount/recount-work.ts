import { RecountReads } from '../ports/recount-store.js';
import { Seal } from '../ports/seal.js';
import { MarkSums } from './mark-sums.js';
import { RecountCounts } from './recount-counts.js';
import { Tell } from './difference.js';

/** What the parts of a recount share. */
export interface RecountWork {
  readonly reads: RecountReads;
  readonly seal: Seal;
  readonly tell: Tell;
  readonly counts: RecountCounts;
  /** Of the entries that were read. */
  readonly marks: MarkSums;
}
