import { Inject, Injectable } from '@nestjs/common';
import { AcceptedEvents, acceptEvents, Speaker } from '../../../libs/ledger/intake/accept-events.js';
import { CheckedEvent } from '../../../libs/ledger/intake/check-event.js';
import { ReadItem } from '../../../libs/ledger/intake/read-events.js';
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
   * @throws what acceptEvents throws; the same may then be brought again as it is
   */
  async take(items: readonly ReadItem[], speaker: Speaker): Promise<AcceptedEvents> {
    const heard = (events: readonly CheckedEvent[]): void => {
      this.listener.note(events);
    };
    const result = await acceptEvents({ ...this.deps.intake, heard }, items, speaker);
    this.metrics.countEvents(result);
    return result;
  }
}
