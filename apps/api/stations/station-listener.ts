import { OnApplicationShutdown } from '@nestjs/common';
import { microTime } from '../../../libs/ledger/containment/suspect-cause.js';
import { CheckedEvent } from '../../../libs/ledger/intake/check-event.js';
import { isBefore } from '../../../libs/ledger/intake/event-time.js';
import { Clock } from '../../../libs/ledger/ports/clock.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { StationContact, StationStore } from '../../../libs/ledger/ports/station-store.js';

const FLUSH_EVERY_MS = 5_000;
/** Stations that may wait to be written; more speak at once in no house, and those would be noted when they speak again. */
const MOST_STATIONS = 10_000;
const SOURCE = '/stations/';

interface ListenerDeps {
  readonly store: Pick<StationStore, 'heard'>;
  readonly clock: Clock;
  readonly log: Log;
  /** Milliseconds between writes. */
  readonly flushEveryMs?: number;
}

/**
 * Notes when stations were heard, beside the intake: in memory at once, in the database every few seconds and at the end, all
 * stations in one statement. A process that is killed loses what it noted since; what was accepted is safe without it.
 */
export class StationListener implements OnApplicationShutdown {
  /** By station; times of events as they were sent. */
  private waiting = new Map<string, StationContact>();
  private timer: NodeJS.Timeout | undefined;
  private flushing: Promise<void> | undefined;
  private isFailing = false;

  constructor(private readonly deps: ListenerDeps) {}

  /** Events that were accepted just now. Returns at once and does not fail. */
  note(events: readonly CheckedEvent[]): void {
    const heardAt = this.deps.clock.now();
    for (const { source, body } of events) {
      const { time } = body;
      // The check of the event has made sure that it has one.
      if (typeof time !== 'string') continue;
      this.keep({ station: source.slice(SOURCE.length), heardAt, eventTime: time });
    }
    if (this.waiting.size > 0) this.flushLater();
  }

  /** Writes what is waiting; what the database does not take now waits on. */
  async flush(): Promise<void> {
    clearTimeout(this.timer);
    this.timer = undefined;
    this.flushing ??= this.writeWaiting().finally(() => {
      this.flushing = undefined;
      if (this.waiting.size > 0) this.flushLater();
    });
    await this.flushing;
  }

  /** Called by Nest when no request is being answered any more. */
  async onApplicationShutdown(): Promise<void> {
    await this.flush();
    // One more round for what came during the last one.
    await this.flush();
    clearTimeout(this.timer);
  }

  private keep(contact: StationContact): void {
    const { station, heardAt, eventTime } = contact;
    const known = this.waiting.get(station);
    if (known === undefined && this.waiting.size >= MOST_STATIONS) return;
    if (known === undefined) this.waiting.set(station, contact);
    else
      this.waiting.set(station, {
        station,
        heardAt: later(known.heardAt, heardAt),
        eventTime: later(known.eventTime, eventTime),
      });
  }

  /** Without keeping the process alive for it: stopping flushes. */
  private flushLater(): void {
    this.timer ??= setTimeout(() => void this.flush(), this.deps.flushEveryMs ?? FLUSH_EVERY_MS).unref();
  }

  private async writeWaiting(): Promise<void> {
    const contacts = [...this.waiting.values()];
    this.waiting = new Map();
    if (contacts.length === 0) return;
    try {
      await this.deps.store.heard(contacts.map((one) => ({ ...one, eventTime: microTime(one.eventTime) })));
      this.isFailing = false;
    } catch (error) {
      for (const contact of contacts) this.keep(contact);
      // Once per outage: every try would repeat it.
      if (!this.isFailing) this.deps.log.error('When stations were heard cannot be written.', { error: String(error) });
      this.isFailing = true;
    }
  }
}

function later(a: string, b: string): string {
  return isBefore(a, b) ? b : a;
}
