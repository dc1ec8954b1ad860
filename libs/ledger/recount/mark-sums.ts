import { StreamKey } from '../../domain/subject/subject.js';

const BUCKETS = 4096;

/**
 * Sums over marks, by the ledger they are of: whether two sets of marks are the same, whatever the order in which they
 * are read and however many there are. Sets that differ have the same sum once in 2^32 times, and then only by chance.
 */
export class MarkSums {
  readonly #sums = new Uint32Array(BUCKETS);
  readonly #counts = new Uint32Array(BUCKETS);

  add(mark: string, hour: string, subject: StreamKey, seq: number): void {
    const bucket = bucketOf(subject);
    this.#sums[bucket] = ((this.#sums[bucket] ?? 0) + hashOf(`${mark}\n${hour}\n${subject}\n${seq}`)) >>> 0;
    this.#counts[bucket] = ((this.#counts[bucket] ?? 0) + 1) >>> 0;
  }

  /** Buckets in which the two are not the same. */
  unlike(other: MarkSums): ReadonlySet<number> {
    const unlike = new Set<number>();
    for (let bucket = 0; bucket < BUCKETS; bucket += 1) {
      const same = this.#sums[bucket] === other.#sums[bucket] && this.#counts[bucket] === other.#counts[bucket];
      if (!same) unlike.add(bucket);
    }
    return unlike;
  }
}

export function bucketOf(subject: StreamKey): number {
  return hashOf(subject) % BUCKETS;
}

/** FNV-1a over UTF-16 code units, and mixed at the end so that sums do not cancel out (the finaliser of MurmurHash3). */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}
