import { Acceptance, EventInbox, IncomingEvent } from '../ports/book-store.js';
import { ReadStore } from '../ports/read-store.js';
import { InboxFull } from './inbox-load.js';

interface BacklogGateDeps {
  readonly reads: Pick<ReadStore, 'backlog'>;
  /** Events that may wait to be folded. */
  readonly mostPending: number;
  /** Milliseconds of a clock that only goes forward. */
  readonly elapsedMs: () => number;
}

interface Look {
  readonly atMs: number;
  readonly pending: number;
}

/** Least time between two looks; and of all time at most a twentieth is spent on them, since a long backlog takes long to count. */
const LOOK_EVERY_MS = 2_000;
const REST_SHARE = 20;
/** Stations that wait come again when the backlog is down to this share of its bound, so that there is room for some of them. */
const ROOM_AT = 0.9;
const LONGEST_WAIT_S = 60;

/**
 * An inbox that takes nothing more while too many events wait to be folded. How many do is counted every few seconds while
 * events come, beside them: they wait for a count only where the last one was too high. A database that cannot be asked
 * refuses nobody here.
 */
export class BacklogGate implements EventInbox {
  readonly #inbox: EventInbox;
  readonly #deps: BacklogGateDeps;
  #last: Look | undefined;
  #looking: Promise<void> | undefined;
  #nextLookMs = 0;
  /** Since the last look, through this gate. */
  #accepted = 0;
  /** Events a second that are folded, as far as is known; those that came by other processes make it look slower. */
  #drain = 0;

  constructor(inbox: EventInbox, deps: BacklogGateDeps) {
    this.#inbox = inbox;
    this.#deps = deps;
  }

  /** @throws InboxFull backlog-full; otherwise what the inbox throws. */
  async accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    if (this.#deps.elapsedMs() >= this.#nextLookMs) this.#looking ??= this.#look();
    if (this.#isOver()) {
      await this.#looking;
      if (this.#isOver()) throw new InboxFull('backlog-full', this.#waitSeconds());
    }
    const answers = await this.#inbox.accept(events);
    for (const answer of answers) if (answer === 'accepted') this.#accepted += 1;
    return answers;
  }

  #isOver(): boolean {
    return this.#last !== undefined && this.#last.pending > this.#deps.mostPending;
  }

  async #look(): Promise<void> {
    const { reads, elapsedMs } = this.#deps;
    const beganMs = elapsedMs();
    const before = this.#accepted;
    try {
      const { pending } = await reads.backlog();
      this.#note({ atMs: beganMs, pending }, before);
    } catch {
      // What was known stands. Whoever inserts learns that the database is away.
    }
    const tookMs = elapsedMs() - beganMs;
    this.#nextLookMs = beganMs + Math.max(LOOK_EVERY_MS, tookMs * REST_SHARE);
    this.#looking = undefined;
  }

  #note(now: Look, accepted: number): void {
    this.#accepted -= accepted;
    if (this.#last !== undefined) {
      const folded = Math.max(0, this.#last.pending + accepted - now.pending);
      const rate = (folded / Math.max(1, now.atMs - this.#last.atMs)) * 1000;
      // Half of what was known is kept: folding goes by bundles.
      this.#drain = this.#drain === 0 ? rate : (this.#drain + rate) / 2;
    }
    this.#last = now;
  }

  /** Until there is room at the pace of the last seconds. */
  #waitSeconds(): number {
    const over = (this.#last?.pending ?? 0) - this.#deps.mostPending * ROOM_AT;
    const seconds = this.#drain === 0 ? LONGEST_WAIT_S : Math.ceil(over / this.#drain);
    return Math.min(LONGEST_WAIT_S, Math.max(1, seconds));
  }
}
