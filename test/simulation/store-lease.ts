import { NEVER, SimProcess } from './sim-process.js';
import { StoreLink } from './store-link.js';

/** Questions that a store puts together of others: each of these is a step. */
const PUT_TOGETHER: ReadonlySet<string | symbol> = new Set(['standing', 'pendingOrStanding', 'heads']);

/** What a process has of the store for one transaction: gone with the process, or with the connection. */
export class StoreLease {
  readonly #process: SimProcess;
  readonly #link: StoreLink;
  readonly #connection: number;
  readonly #atWork = new Set<Promise<unknown>>();
  readonly #left: Promise<unknown>[] = [];
  #broken = false;

  constructor(process: SimProcess, link: StoreLink) {
    this.#process = process;
    this.#link = link;
    this.#connection = link.connect();
  }

  /**
   * Does the work and what it left to go with the commit.
   * @throws Error where the process died: what it had asked is answered first, as a server finds out only then
   */
  run<T>(work: () => Promise<T>): Promise<T> {
    return new Promise((resolve, reject) => {
      const end = (): void => {
        reject(new Error('the process of this transaction died'));
      };
      if (!this.#process.isUp) {
        end();
        return;
      }
      const done = this.#process.onKilled(() => void Promise.allSettled(this.#atWork).then(end));
      this.#toItsEnd(work).finally(done).then(resolve, reject);
    });
  }

  async #toItsEnd<T>(work: () => Promise<T>): Promise<T> {
    const result = await work();
    await Promise.all(this.#left);
    await this.#process.step('commits');
    this.#requireWhole();
    return result;
  }

  /** The transaction as the process has it: every question is a step. */
  over<T extends object>(tx: T): T {
    const wired: T = new Proxy(tx, {
      get: (target, name) => {
        const method: unknown = Reflect.get(target, name);
        if (typeof method !== 'function') return method;
        if (name === 'leave') return this.#leave.bind(this);
        if (PUT_TOGETHER.has(name)) return method.bind(wired) as unknown;
        return (...asked: unknown[]) =>
          this.#ask(String(name), () => Reflect.apply(method, target, asked) as Promise<unknown>);
      },
    });
    return wired;
  }

  #leave(asked: Promise<unknown>): void {
    this.#left.push(asked);
    // Told when the work is over.
    asked.catch(() => undefined);
  }

  /** One question of the transaction. @throws StoreAway where the connection is not there any more */
  async #ask<T>(what: string, ask: () => Promise<T>): Promise<T> {
    await this.#process.step(what);
    this.#requireWhole();
    const asked = ask();
    this.#atWork.add(asked);
    try {
      return await asked;
    } finally {
      this.#atWork.delete(asked);
      // Whoever is gone learns of neither answer nor error.
      if (!this.#process.isUp) await NEVER;
    }
  }

  #requireWhole(): void {
    this.#broken ||= this.#link.breaksNow(this.#connection);
    if (this.#broken) throw this.#link.away();
  }
}
