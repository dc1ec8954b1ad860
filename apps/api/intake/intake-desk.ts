import { Inject, Injectable } from '@nestjs/common';
import { AcceptedEvents, acceptEvents, Speaker } from '../../../libs/ledger/intake/accept-events.js';
import { CheckedEvent } from '../../../libs/ledger/intake/check-event.js';
import { ReadItem } from '../../../libs/ledger/intake/read-events.js';
import { EventInbox } from '../../../libs/ledger/ports/book-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ApiMetrics } from '../metrics/api-metrics.js';
import { StationListener } from '../stations/station-listener.js';

/** Takes events in, by whatever door they came, and counts them. */
@Injectable()
export class IntakeDesk {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly metrics: ApiMetrics,
    private readonly listener: StationListener,
  ) {}

  /**
   * Answers once everything accepted is durable.
   * @param inserting what is done around the insert
   * @throws what acceptEvents throws; the same may then be brought again as it is
   */
  async take(
    items: readonly ReadItem[],
    speaker: Speaker,
    inserting: <T>(insert: () => Promise<T>) => Promise<T> = (insert) => insert(),
  ): Promise<AcceptedEvents> {
    const heard = (events: readonly CheckedEvent[]): void => {
      this.listener.note(events);
    };
    const { intake } = this.deps;
    const inbox: EventInbox = { accept: (events) => inserting(() => intake.inbox.accept(events)) };
    const result = await acceptEvents({ ...intake, inbox, heard }, items, speaker);
    this.metrics.countEvents(result);
    return result;
  }
}
