/** A small repeatable generator (mulberry32): the same seed gives the same shift on every machine. */
export class SeededRandom {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
  }

  /** Uniform in [0, 1). */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number from low to high, both included. */
  whole(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  /** A figure with so many decimals from low to high, both included. */
  figure(low: number, high: number, decimals = 1): number {
    const scale = 10 ** decimals;
    return this.whole(Math.round(low * scale), Math.round(high * scale)) / scale;
  }
}
