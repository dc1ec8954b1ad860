/** How much may be taken of something in a row, and how fast it comes back. */
export interface BucketSize {
  readonly burst: number;
  readonly perSecond: number;
}

/** Lets so much through in a row, and afterwards as much as comes back in time. */
export class TokenBucket {
  private tokens: number;
  private atMs: number;

  constructor(
    private readonly size: BucketSize,
    nowMs: number,
  ) {
    this.tokens = size.burst;
    this.atMs = nowMs;
  }

  /**
   * @param nowMs of a clock that only runs forward
   * @returns whether there was one left
   */
  take(nowMs: number): boolean {
    this.refill(nowMs);
    if (this.tokens < 1) return false;
    this.tokens -= 1;
    return true;
  }

  giveBack(): void {
    this.tokens = Math.min(this.size.burst, this.tokens + 1);
  }

  /** Whether it is as if nothing had ever been taken. */
  isFull(nowMs: number): boolean {
    this.refill(nowMs);
    return this.tokens >= this.size.burst;
  }

  /** Whole seconds until there is one again; at least 1. */
  retryAfterSeconds(): number {
    return Math.max(1, Math.ceil((1 - this.tokens) / this.size.perSecond));
  }

  private refill(nowMs: number): void {
    const came = ((nowMs - this.atMs) / 1000) * this.size.perSecond;
    this.tokens = Math.min(this.size.burst, this.tokens + came);
    this.atMs = nowMs;
  }
}
