/** The perfect subtree of 2^level leaves that begins with leaf index * 2^level. */
export interface SubtreePlace {
  readonly level: number;
  readonly index: number;
}

/** Gives the hashes of perfect subtrees, in the order that they were asked for. */
export type SubtreeReader = (places: readonly SubtreePlace[]) => Promise<readonly Uint8Array[]>;

/** Leaves `start` to `end - 1`. */
export interface LeafRange {
  readonly start: number;
  readonly end: number;
}

/**
 * The perfect subtrees that a range is made of, from left to right, each as large as it can be. The range must be one
 * that RFC 6962, section 2.1, splits a tree into: it begins at a multiple of the power of two that is not smaller than it.
 */
export function subtreesOf(range: LeafRange): SubtreePlace[] {
  const places: SubtreePlace[] = [];
  for (let start = range.start; start < range.end;) {
    let [level, width] = [0, 1];
    while (width * 2 <= range.end - start) [level, width] = [level + 1, width * 2];
    places.push({ level, index: start / width });
    start += width;
  }
  return places;
}

/** The largest power of two that is smaller than `size`, which is at least 2: where RFC 6962, section 2.1, splits a tree. */
export function splitOf(size: number): number {
  let width = 1;
  while (width * 2 < size) width *= 2;
  return width;
}
