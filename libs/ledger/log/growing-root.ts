import { nodeHash, Sha256 } from './merkle/hashing.js';

/** The root of a tree whose leaves come one after the other, in memory that grows with the logarithm of their number. */
export class GrowingRoot {
  /** Roots of the perfect subtrees from left to right, with their levels. */
  readonly #peaks: { readonly level: number; readonly hash: Uint8Array }[] = [];
  #size = 0;

  constructor(private readonly sha256: Sha256) {}

  get size(): number {
    return this.#size;
  }

  /** @param leaf hash of the leaf */
  add(leaf: Uint8Array): void {
    this.#size += 1;
    let peak = { level: 0, hash: leaf };
    for (let last = this.#peaks.at(-1); last?.level === peak.level; last = this.#peaks.at(-1)) {
      this.#peaks.pop();
      peak = { level: peak.level + 1, hash: nodeHash(this.sha256, last.hash, peak.hash) };
    }
    this.#peaks.push(peak);
  }

  /** Of no leaves the SHA-256 of nothing (RFC 6962, section 2.1). */
  root(): Uint8Array {
    const [last, ...others] = this.#peaks.toReversed();
    if (last === undefined) return this.sha256(new Uint8Array(0));
    return others.reduce((right, { hash }) => nodeHash(this.sha256, hash, right), last.hash);
  }
}
