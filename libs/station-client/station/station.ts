import { randomUUID } from 'node:crypto';
import { NotDrained, Unreachable } from '../errors.js';
import { ClearanceAnswer, ClearanceRequest, UnreachablePolicy } from '../clearance/clearance-request.js';
import { byPolicy, ClearanceOptions, requestClearance, returnClearance } from '../clearance/request-clearance.js';
import { ClockOffset } from '../clock/clock-estimate.js';
import { measureClock } from '../clock/measure-clock.js';
import { buildEvent, StationCloudEvent, stationSource } from '../events/build-event.js';
import { StationEventData, StationEventType } from '../events/station-event-data.js';
import { openSpool, Outbox } from '../outbox/outbox.js';
import { OutboxOptions } from '../outbox/outbox-options.js';
import { Spool } from '../spool/spool.js';

export interface StationOptions extends Omit<OutboxOptions, 'source'> {
  /** Its name in the setup of Heatbook. */
  readonly station: string;
  /** What the bench does while Heatbook cannot be asked for a clearance; `refuse` where left out. */
  readonly whenUnreachable?: UnreachablePolicy;
  /**
   * Whether `now()` is set right by the clock of Heatbook, where this one is off for certain. False where left out: then the offset is
   * only reported.
   */
  readonly correctClock?: boolean;
}

/** What may be said of an event besides its facts. */
export interface Telling {
  /** When it happened; `now()` where left out. */
  readonly time?: Date | string;
  /** Of your own making, unique for this station; made where left out. */
  readonly id?: string;
}

const CLEARANCE_MS = 10_000;

/**
 * Opens the spool of a station and begins to send what waits in it.
 * @throws SpoolLocked, SpoolFull, SpoolBroken; TypeError where `url` is none
 */
export async function openStation(options: StationOptions): Promise<Station> {
  return new Station(options, await openSpool(options));
}

/** A bench, oven or instrument that tells what it did, and asks before it heats. Open it with `openStation`. */
export class Station extends Outbox {
  constructor(
    private readonly settings: StationOptions,
    spool: Spool,
  ) {
    super({ ...settings, source: stationSource(settings.station) }, spool);
  }

  /**
   * Builds an event of this station and keeps it. Resolves when it is on the disk.
   * @returns the event, under whose id Heatbook can be asked for it
   * @throws BadEvent, SpoolFull, SpoolBroken, SpoolLocked, Closed
   */
  async tell<T extends StationEventType>(
    type: T,
    subject: string,
    data: StationEventData[T],
    { time, id }: Telling = {},
  ): Promise<StationCloudEvent<T>> {
    const offset = this.#correction();
    const event = buildEvent({
      type,
      station: this.settings.station,
      subject,
      data,
      time: time ?? this.now(),
      ...(id !== undefined && { id }),
      // Whoever reads the event later can tell what the clock of the bench said.
      ...(time === undefined && offset !== undefined && { extensions: { clockoffsetms: offset.offsetMs } }),
    });
    await this.post(event);
    return event;
  }

  /**
   * The time, set right by the clock of Heatbook where `correctClock` is on and this clock is off for certain. Take it for the
   * beginning and the end of a heat too: a heat that begins before its clearance counts as uncleared.
   */
  now(): Date {
    return new Date(Date.now() + (this.#correction()?.offsetMs ?? 0));
  }

  /** Asks Heatbook for its time, over a good second; answers to events teach the offset too. @throws Unreachable */
  measureClock(): Promise<ClockOffset> {
    return measureClock({ url: this.settings.url, clock: this.clock });
  }

  /**
   * Asks for permission for planned steps. What was told before is delivered first, since it may be what stands against them. Where
   * Heatbook cannot be reached in time, the policy of the station decides, and the answer says so.
   * @throws KeyRefused; RequestRefused where the request is not one; an error of the spool
   */
  async clear(request: ClearanceRequest, options: ClearanceOptions = {}): Promise<ClearanceAnswer> {
    const { timeoutMs = CLEARANCE_MS, idempotencyKey = randomUUID() } = options;
    const { whenUnreachable = this.settings.whenUnreachable ?? 'refuse' } = options;
    const deadline = performance.now() + timeoutMs;
    try {
      await this.drain({ timeoutMs });
    } catch (error) {
      if (!(error instanceof NotDrained)) throw error;
      const late = new Unreachable(`What was told before could not be delivered in time: ${error.message}`);
      return byPolicy(whenUnreachable, late, idempotencyKey);
    }
    const leftMs = Math.max(1, deadline - performance.now());
    const asked = { ...options, whenUnreachable, idempotencyKey, clock: this.clock, timeoutMs: leftMs };
    return requestClearance(this.settings, request, asked);
  }

  /** Gives a clearance back that is not needed any more. @throws KeyRefused, RequestRefused, Unreachable */
  giveBack(clearance: string): Promise<void> {
    return returnClearance(this.settings, clearance);
  }

  /** What to add to this clock; undefined where it is not to be corrected, or may be right as it is. */
  #correction(): ClockOffset | undefined {
    if (this.settings.correctClock !== true) return undefined;
    const offset = this.clock.offset();
    if (offset === undefined || offset.isContradictory) return undefined;
    return Math.abs(offset.offsetMs) > offset.uncertaintyMs ? offset : undefined;
  }
}
