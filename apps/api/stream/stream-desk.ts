import { Inject, Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { ChangePlace } from '../../../libs/ledger/ports/change-store.js';
import { ChangeFeed } from '../../../libs/ledger/stream/change-feed.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';
import { ApiMetrics } from '../metrics/api-metrics.js';
import { StreamListener } from './stream-listener.js';

/** How often a listener hears that the connection lives, and is asked after: whether it may still listen. */
const BEAT_EVERY_MS = 15_000;
const MOST_OF_ONE = 6;
const MOST_IN_ALL = 500;
const RETRY_AFTER_S = 30;

/** One open stream. */
export interface Seat {
  readonly listener: StreamListener;
  readonly caller: Principal;
  /** Whether the caller may still listen, as the caller was when the stream was opened. */
  readonly isAdmitted: () => Promise<boolean>;
}

/** The open streams of this process: who may have one, for how long, and that all end when it stops. */
@Injectable()
export class StreamDesk implements OnModuleDestroy {
  private readonly feed: ChangeFeed;
  private readonly seats = new Set<Seat>();
  private beats: NodeJS.Timeout | undefined;
  private closed = false;

  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly metrics: ApiMetrics,
  ) {
    this.feed = new ChangeFeed(deps);
  }

  /**
   * Takes in a listener, from now on or from the place after which it has not heard.
   * @returns ends it; may be called again
   * @throws ProblemError too-many-streams, unavailable
   */
  async join(seat: Seat, last: ChangePlace | 'too-old' | null): Promise<() => void> {
    this.requireRoom(seat.caller);
    this.seats.add(seat);
    this.seatsChanged();
    try {
      await this.feed.join(seat.listener, last);
    } catch (error) {
      this.leave(seat);
      throw error;
    }
    return () => {
      this.leave(seat);
    };
  }

  /** Streams would keep the server from closing for as long as anybody listens. */
  onModuleDestroy(): void {
    this.closed = true;
    for (const seat of [...this.seats]) this.leave(seat);
  }

  private requireRoom({ name, via }: Principal): void {
    const headers = { 'retry-after': String(RETRY_AFTER_S) };
    const own = [...this.seats].filter(({ caller }) => caller.name === name && caller.via === via).length;
    if (own >= MOST_OF_ONE) {
      const detail = `${String(own)} streams of yours are open: close one, or try again after Retry-After seconds.`;
      throw new ProblemError('too-many-streams', detail, { headers });
    }
    if (!this.closed && this.seats.size < MOST_IN_ALL) return;
    const why = this.closed ? 'The service stops.' : 'As many listen as the service can bear.';
    throw new ProblemError('unavailable', `${why} Try again after Retry-After seconds.`, { headers });
  }

  private leave(seat: Seat): void {
    seat.listener.end();
    this.feed.leave(seat.listener);
    if (this.seats.delete(seat)) this.seatsChanged();
  }

  private seatsChanged(): void {
    this.metrics.setListeners(this.seats.size);
    if (this.seats.size === 0) {
      clearInterval(this.beats);
      this.beats = undefined;
    } else {
      this.beats ??= setInterval(() => {
        for (const seat of [...this.seats]) void this.beat(seat);
      }, BEAT_EVERY_MS);
    }
  }

  private async beat(seat: Seat): Promise<void> {
    seat.listener.beat();
    try {
      if (!(await seat.isAdmitted())) this.leave(seat);
    } catch (error) {
      // The database is away: nothing can be told meanwhile, and it is asked again at the next beat.
      this.deps.log.warn('It is not known whether a listener may go on.', { why: String(error) });
    }
  }
}
