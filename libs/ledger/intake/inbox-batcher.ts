import { Acceptance, EventInbox, IncomingEvent } from '../ports/book-store.js';
import { machineWaits, Waits } from '../ports/waits.js';
import { acceptOnce } from './accept-once.js';

export interface BatcherLimits {
  /** Inserts at the same time; more than two are slower on one database. */
  readonly insertsInFlight: number;
  readonly eventsPerInsert: number;
  /** Events that may wait for an insert. */
  readonly eventsWaiting: number;
}

const BATCHER_LIMITS: BatcherLimits = { insertsInFlight: 2, eventsPerInsert: 1000, eventsWaiting: 20_000 };

/** More events wait than the database keeps up with. Nothing of the request was stored; try again in a while. */
export class InboxFull extends Error {
  readonly retryAfterSeconds = 1;
}

/** A part of a request, small enough for one insert. */
interface Part {
  readonly events: readonly IncomingEvent[];
  readonly resolve: (answers: readonly Acceptance[]) => void;
  readonly reject: (error: unknown) => void;
}

/**
 * An inbox that groups what concurrent requests bring into one insert: what one turn of the event loop reads, and what
 * comes while inserts are in flight. Each request gets its own answers in its own order, and fails only with an insert
 * that it was part of. The store behind it never sees a key twice in one call.
 */
export class InboxBatcher implements EventInbox {
  readonly #store: EventInbox;
  readonly #limits: BatcherLimits;
  readonly #waits: Waits;
  readonly #parts: Part[] = [];
  #waiting = 0;
  #inFlight = 0;
  #isPumpDue = false;

  constructor(store: EventInbox, limits: BatcherLimits = BATCHER_LIMITS, waits: Waits = machineWaits) {
    this.#store = store;
    this.#limits = limits;
    this.#waits = waits;
  }

  /** @throws InboxFull where too many events wait already; otherwise what the store throws. */
  async accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    if (this.#waiting + events.length > this.#limits.eventsWaiting) {
      throw new InboxFull(`${this.#waiting} events wait for the database already`);
    }
    const { eventsPerInsert } = this.#limits;
    if (events.length <= eventsPerInsert) return this.#enqueue(events);
    const parts: Promise<readonly Acceptance[]>[] = [];
    for (let start = 0; start < events.length; start += eventsPerInsert) {
      parts.push(this.#enqueue(events.slice(start, start + eventsPerInsert)));
    }
    return (await Promise.all(parts)).flat();
  }

  #enqueue(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    this.#waiting += events.length;
    return new Promise((resolve, reject) => {
      this.#parts.push({ events, resolve, reject });
      this.#pump();
    });
  }

  /**
   * Inserts once the requests that this turn of the event loop finds in its sockets are read. The first of them would
   * otherwise go alone, and a statement costs api and database many times what a row does.
   */
  #pump(): void {
    if (this.#isPumpDue || this.#parts.length === 0 || this.#inFlight >= this.#limits.insertsInFlight) return;
    this.#isPumpDue = true;
    this.#waits.afterTurn(() => {
      this.#isPumpDue = false;
      while (this.#inFlight < this.#limits.insertsInFlight && this.#parts.length > 0) this.#insertNext();
    });
  }

  #insertNext(): void {
    this.#inFlight += 1;
    void this.#flush(this.#takeParts()).finally(() => {
      this.#inFlight -= 1;
      this.#pump();
    });
  }

  /** As many parts as fit into one insert, in order of arrival. */
  #takeParts(): Part[] {
    let size = 0;
    let count = 0;
    for (const { events } of this.#parts) {
      if (size + events.length > this.#limits.eventsPerInsert) break;
      size += events.length;
      count += 1;
    }
    this.#waiting -= size;
    return this.#parts.splice(0, count);
  }

  async #flush(parts: readonly Part[]): Promise<void> {
    try {
      const answers = await acceptOnce(
        this.#store,
        parts.flatMap(({ events }) => events),
      );
      let start = 0;
      for (const { events, resolve } of parts) resolve(answers.slice(start, (start += events.length)));
    } catch (error) {
      for (const { reject } of parts) reject(error);
    }
  }
}
