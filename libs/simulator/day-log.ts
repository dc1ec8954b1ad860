import { StationEventData, StationEventType } from '../domain/events/station-event.js';
import { SeededRandom } from './seeded-random.js';
import { SimulatedAct } from './simulated-act.js';
import { CloudEvent, StationCloudEvent } from './station-cloud-event.js';

export interface ToldStep<T extends StationEventType> {
  readonly type: T;
  readonly station: string;
  /** Stream key: `{assembly}/{serial}` or `devices/{device}`. */
  readonly subject: string;
  readonly id: string;
  /** When it was over by the clock of the station, ms. */
  readonly timeMs: number;
  readonly data: StationEventData[T];
}

/** Everything that the stations of a day do, with the day's one source of chance. */
export class DayLog {
  private readonly done: SimulatedAct[] = [];

  constructor(
    readonly random: SeededRandom,
    /** Share of hot-gas heats that are logged, 0 to 1. */
    readonly traced: number,
    /** When the shift begins, ms. */
    readonly startMs: number,
  ) {}

  add(act: SimulatedAct): void {
    this.done.push(act);
  }

  event<T extends StationEventType>({ type, station, subject, id, timeMs, data }: ToldStep<T>): StationCloudEvent {
    const event: CloudEvent<T> = {
      specversion: '1.0',
      ...{ type, source: `/stations/${station}`, id, subject, time: timeText(timeMs) },
      datacontenttype: 'application/json',
      data,
    };
    return event as StationCloudEvent;
  }

  /** In the order in which it was done. */
  acts(): readonly SimulatedAct[] {
    return [...this.done].sort((a, b) => a.atMs - b.atMs);
  }
}

export const MINUTE_MS = 60_000;

/** RFC 3339 UTC, whole seconds. */
export function timeText(atMs: number): string {
  return `${new Date(atMs).toISOString().slice(0, 19)}Z`;
}
