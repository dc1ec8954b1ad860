/** Who works the book: any number of shards with one worker each, or one worker on the whole of it. */
export class ShardGate {
  readonly #shards = new Set<number>();
  readonly #waiting: (() => void)[] = [];
  readonly #besides: (() => void)[] = [];
  #beside = 0;
  #whole = false;

  /** Takes a shard; false where it is taken, or the whole book is or is asked for. */
  tryEnter(shard: number): boolean {
    if (this.#whole || this.#waiting.length > 0 || this.#shards.has(shard)) return false;
    this.#shards.add(shard);
    return true;
  }

  leave(shard: number): void {
    this.#shards.delete(shard);
    this.#admitWhole();
  }

  /** Resolves once nobody has the whole book or waits for it before this one. */
  enterBeside(): Promise<void> {
    if (!this.#whole && this.#waiting.length === 0) {
      this.#beside += 1;
      return Promise.resolve();
    }
    return new Promise((resolve) => {
      this.#besides.push(resolve);
    });
  }

  leaveBeside(): void {
    this.#beside -= 1;
    this.#admitWhole();
  }

  /** Resolves once nobody else works the book. New shards are turned away meanwhile, so the wait ends. */
  enterWhole(): Promise<void> {
    return new Promise((resolve) => {
      this.#waiting.push(resolve);
      this.#admitWhole();
    });
  }

  leaveWhole(): void {
    this.#whole = false;
    this.#admitWhole();
  }

  #admitWhole(): void {
    if (this.#whole || this.#shards.size > 0 || this.#beside > 0) return;
    const first = this.#waiting.shift();
    if (first === undefined) {
      for (const enter of this.#besides.splice(0)) {
        this.#beside += 1;
        enter();
      }
      return;
    }
    this.#whole = true;
    first();
  }
}
