import { refKey } from '../../../domain/events/event-order.js';
import { Acceptance, EventInbox, IncomingEvent } from '../../ports/book-store.js';

/** An inbox that keeps a list, and remembers each call. Its answers wait for `gate`, and fail where that rejects. */
export class ListedInbox implements EventInbox {
  readonly calls: (readonly IncomingEvent[])[] = [];
  readonly stored = new Map<string, IncomingEvent>();
  inFlight = 0;
  mostInFlight = 0;
  gate: (call: number) => Promise<void> = () => Promise.resolve();

  async accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    this.calls.push(events);
    this.inFlight += 1;
    this.mostInFlight = Math.max(this.mostInFlight, this.inFlight);
    try {
      await this.gate(this.calls.length);
      return events.map((event) => this.#keep(event));
    } finally {
      this.inFlight -= 1;
    }
  }

  #keep(event: IncomingEvent): Acceptance {
    const known = this.stored.get(refKey(event));
    if (known !== undefined) return known.contentHash === event.contentHash ? 'duplicate' : 'conflict';
    this.stored.set(refKey(event), event);
    return 'accepted';
  }
}
