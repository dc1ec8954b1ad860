import { Acceptance, BookStore, BookTransaction, IncomingEvent } from '../../libs/ledger/ports/book-store.js';
import { NEVER, SimProcess } from './sim-process.js';
import { StoreLease } from './store-lease.js';
import { StoreLink } from './store-link.js';

type Work<T> = (tx: BookTransaction) => Promise<T>;

/**
 * The book's store as one process has it: every question is a step, at which the process may die, others come in between and
 * the connection breaks. Locks, blocking and conflicts are those of the store behind it.
 */
export class WiredStore implements BookStore {
  readonly shards: number;
  readonly #inner: BookStore;
  readonly #process: SimProcess;
  readonly #link: StoreLink;

  constructor(inner: BookStore, process: SimProcess, link: StoreLink) {
    this.#inner = inner;
    this.#process = process;
    this.#link = link;
    this.shards = inner.shards;
  }

  accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    return this.#ask('accept', () => this.#inner.accept(events));
  }

  withShards<T>(
    shards: readonly number[],
    work: (tx: BookTransaction, own: readonly number[]) => Promise<T>,
  ): Promise<T | 'busy'> {
    const lease = new StoreLease(this.#process, this.#link);
    return this.#ask('withShards', () =>
      this.#inner.withShards(shards, (tx, own) => lease.run(() => work(lease.over(tx), own))),
    );
  }

  besideFolds<T>(work: Work<T>): Promise<T> {
    const lease = new StoreLease(this.#process, this.#link);
    return this.#ask('besideFolds', () => this.#inner.besideFolds((tx) => lease.run(() => work(lease.over(tx)))));
  }

  exclusively<T>(work: Work<T>): Promise<T> {
    const lease = new StoreLease(this.#process, this.#link);
    return this.#ask('exclusively', () => this.#inner.exclusively((tx) => lease.run(() => work(lease.over(tx)))));
  }

  shardsDue(): Promise<readonly number[]> {
    return this.#ask('shardsDue', () => this.#inner.shardsDue());
  }

  rechecksDue(...asked: Parameters<BookStore['rechecksDue']>): ReturnType<BookStore['rechecksDue']> {
    return this.#ask('rechecksDue', () => this.#inner.rechecksDue(...asked));
  }

  unpark(...asked: Parameters<BookStore['unpark']>): ReturnType<BookStore['unpark']> {
    return this.#ask('unpark', () => this.#inner.unpark(...asked));
  }

  clearancesOver(...asked: Parameters<BookStore['clearancesOver']>): ReturnType<BookStore['clearancesOver']> {
    return this.#ask('clearancesOver', () => this.#inner.clearancesOver(...asked));
  }

  forgetAnswers(before: string): Promise<void> {
    return this.#ask('forgetAnswers', () => this.#inner.forgetAnswers(before));
  }

  /** The question on its way there, and the answer on its way back. */
  async #ask<T>(what: string, ask: () => Promise<T>): Promise<T> {
    const connection = this.#link.connect();
    await this.#process.step(what);
    if (this.#link.breaksNow(connection)) throw this.#link.away();
    const answer = await ask().catch(async (error: unknown) => {
      if (!this.#process.isUp) await NEVER;
      throw error;
    });
    await this.#process.step(`${what} answered`);
    if (this.#link.breaksNow(connection)) throw this.#link.away();
    return answer;
  }
}
