/**
 * A table as one transaction sees it: what is committed, with its own rows over it. Rows are replaced, never changed in
 * place, so nobody sees the draft before `commit`.
 */
export class Draft<K, V> {
  readonly #committed: Map<K, V>;
  readonly #own = new Map<K, V>();

  constructor(committed: Map<K, V>) {
    this.#committed = committed;
  }

  get(key: K): V | undefined {
    return this.#own.get(key) ?? this.#committed.get(key);
  }

  set(key: K, row: V): void {
    this.#own.set(key, row);
  }

  /** Every row, in the order in which their keys came. */
  rows(): V[] {
    return [...new Map([...this.#committed, ...this.#own]).values()];
  }

  /** Keys of its own rows. */
  changed(): K[] {
    return [...this.#own.keys()];
  }

  commit(): void {
    for (const [key, row] of this.#own) this.#committed.set(key, row);
  }
}
