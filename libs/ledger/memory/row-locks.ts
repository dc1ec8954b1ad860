import { TryAgain } from '../ports/book-store.js';

interface Lock {
  holder: object;
  readonly waiting: { readonly owner: object; readonly grant: () => void }[];
}

/** Locks on rows by name, first come first served, each kept until its owner lets go of all that it holds. */
export class RowLocks {
  readonly #locks = new Map<string, Lock>();
  readonly #waitsFor = new Map<object, Lock>();

  /**
   * Takes locks one by one in order of name. Names that the owner has already are passed over.
   * @throws TryAgain where waiting would never end, since others wait for this owner in turn.
   */
  async take(owner: object, names: readonly string[]): Promise<void> {
    for (const name of [...new Set(names)].sort()) await this.#takeOne(owner, name);
  }

  /** Takes a lock that nobody has; false where somebody else does. */
  tryTake(owner: object, name: string): boolean {
    const lock = this.#locks.get(name);
    if (lock === undefined) this.#locks.set(name, { holder: owner, waiting: [] });
    return lock === undefined || lock.holder === owner;
  }

  #takeOne(owner: object, name: string): Promise<void> {
    const lock = this.#locks.get(name);
    if (lock === undefined) {
      this.#locks.set(name, { holder: owner, waiting: [] });
      return Promise.resolve();
    }
    if (lock.holder === owner) return Promise.resolve();
    if (this.#closesCircle(owner, lock)) return Promise.reject(new TryAgain(`deadlock: ${name} is never let go of`));
    this.#waitsFor.set(owner, lock);
    return new Promise((resolve) => {
      lock.waiting.push({ owner, grant: resolve });
    });
  }

  #closesCircle(owner: object, lock: Lock): boolean {
    let next: Lock | undefined = lock;
    while (next !== undefined && next.holder !== owner) next = this.#waitsFor.get(next.holder);
    return next !== undefined;
  }

  /** Hands every lock of an owner to whoever has waited longest for it. */
  releaseAll(owner: object): void {
    for (const [name, lock] of this.#locks) {
      if (lock.holder !== owner) continue;
      const first = lock.waiting.shift();
      if (first === undefined) {
        this.#locks.delete(name);
        continue;
      }
      lock.holder = first.owner;
      this.#waitsFor.delete(first.owner);
      first.grant();
    }
  }
}
