import { Acceptance, EventInbox, IncomingEvent } from '../ports/book-store.js';
import { machineWaits, Waits } from '../ports/waits.js';
import { acceptOnce } from './accept-once.js';
import { InboxBounds, InboxLoad } from './inbox-load.js';

export interface BatcherLimits extends InboxBounds {
  /** Inserts at the same time; more than two are slower on one database. */
  readonly insertsInFlight: number;
  readonly eventsPerInsert: number;
}

/** @param size characters of payloads that may wait in all */
export function batcherLimits(size = 64 * 1024 * 1024): BatcherLimits {
  // The largest request is a stream of 10,000 events, or one of 8 MiB: the share of a station takes it.
  return {
    ...{ insertsInFlight: 2, eventsPerInsert: 1000 },
    inAll: { events: 20_000, size },
    ofOneStation: { events: 10_000, size: size / 4 },
  };
}

/** A part of a request, small enough for one insert. */
interface Part {
  readonly station: string;
  readonly size: number;
  readonly events: readonly IncomingEvent[];
  readonly resolve: (answers: readonly Acceptance[]) => void;
  readonly reject: (error: unknown) => void;
}

/**
 * An inbox that groups what concurrent requests bring into one insert: what one turn of the event loop reads, and what
 * comes while inserts are in flight. Stations take turns: one that sends without end delays another by one insert. Each
 * request gets its own answers in its own order, and fails only with an insert that it was part of. The store behind it
 * never sees a key twice in one call. A request counts for the station that its first event is of.
 */
export class InboxBatcher implements EventInbox {
  readonly #store: EventInbox;
  readonly #limits: BatcherLimits;
  readonly #waits: Waits;
  readonly #load: InboxLoad;
  /** What waits for an insert, by station, in the order in which their turns come. None is empty. */
  readonly #queues = new Map<string, Part[]>();
  #inFlight = 0;
  #isPumpDue = false;

  constructor(store: EventInbox, limits = batcherLimits(), waits: Waits = machineWaits) {
    this.#store = store;
    this.#limits = limits;
    this.#waits = waits;
    this.#load = new InboxLoad(limits);
  }

  /** @throws InboxFull where too much waits already, and then nothing of it is stored; otherwise what the store throws. */
  async accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    const [first] = events;
    if (first === undefined) return [];
    const station = first.source;
    const { eventsPerInsert } = this.#limits;
    const size = sizeOf(events);
    this.#load.add(station, { events: events.length, size });
    if (events.length <= eventsPerInsert) return this.#enqueue(station, events, size);
    const parts: Promise<readonly Acceptance[]>[] = [];
    for (let start = 0; start < events.length; start += eventsPerInsert) {
      const some = events.slice(start, start + eventsPerInsert);
      parts.push(this.#enqueue(station, some, sizeOf(some)));
    }
    // Whoever is told of a failure may send again at once: by then nothing of it waits any more.
    await Promise.allSettled(parts);
    return (await Promise.all(parts)).flat();
  }

  #enqueue(station: string, events: readonly IncomingEvent[], size: number): Promise<readonly Acceptance[]> {
    return new Promise((resolve, reject) => {
      const part = { station, events, size, resolve, reject };
      const queue = this.#queues.get(station);
      if (queue === undefined) this.#queues.set(station, [part]);
      else queue.push(part);
      this.#pump();
    });
  }

  /**
   * Inserts once the requests that this turn of the event loop finds in its sockets are read. The first of them would
   * otherwise go alone, and a statement costs api and database many times what a row does.
   */
  #pump(): void {
    if (this.#isPumpDue || this.#queues.size === 0 || this.#inFlight >= this.#limits.insertsInFlight) return;
    this.#isPumpDue = true;
    this.#waits.afterTurn(() => {
      this.#isPumpDue = false;
      while (this.#inFlight < this.#limits.insertsInFlight && this.#queues.size > 0) this.#insertNext();
    });
  }

  #insertNext(): void {
    this.#inFlight += 1;
    void this.#flush(this.#takeParts()).finally(() => {
      this.#inFlight -= 1;
      this.#pump();
    });
  }

  /**
   * As many parts as fit into one insert: one of each station in turn, then a second of each, of one station in order of
   * arrival. Where the next part of a station does not fit, it comes first in the next insert.
   */
  #takeParts(): Part[] {
    const parts: Part[] = [];
    let room = this.#limits.eventsPerInsert;
    // A station that is put behind the others is come to again.
    for (const [station, queue] of this.#queues) {
      const [part] = queue;
      if (room === 0) break;
      if (part === undefined || part.events.length > room) continue;
      room -= part.events.length;
      parts.push(part);
      queue.shift();
      this.#queues.delete(station);
      if (queue.length > 0) this.#queues.set(station, queue);
    }
    return parts;
  }

  async #flush(parts: readonly Part[]): Promise<void> {
    try {
      const answers = await acceptOnce(
        this.#store,
        parts.flatMap(({ events }) => events),
      );
      this.#leave(parts);
      let start = 0;
      for (const { events, resolve } of parts) resolve(answers.slice(start, (start += events.length)));
    } catch (error) {
      this.#leave(parts);
      for (const { reject } of parts) reject(error);
    }
  }

  /** Before anybody is answered, since the answer may be followed by more. */
  #leave(parts: readonly Part[]): void {
    for (const { station, events, size } of parts) this.#load.remove(station, { events: events.length, size });
  }
}

function sizeOf(events: readonly IncomingEvent[]): number {
  let size = 0;
  for (const { payload } of events) size += payload.length;
  return size;
}
