import { StationEventData, StationEventType } from '../../../libs/domain/events/station-event.js';
import { SeededRandom } from '../../../libs/simulator/seeded-random.js';
import { shiftTime } from './shift-time.js';
import { CloudEvent, StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';

export interface LoggedStep<T extends StationEventType> {
  readonly type: T;
  readonly station: string;
  readonly subject: string;
  readonly id: string;
  /** Minute of the shift. */
  readonly at: number;
  readonly data: StationEventData[T];
}

/** Everything that the shift's stations saw, in the order in which it was told, with the shift's one source of chance. */
export class ShiftLog {
  readonly random: SeededRandom;
  private readonly told: StationCloudEvent[] = [];

  constructor(seed: number) {
    this.random = new SeededRandom(seed);
  }

  record<T extends StationEventType>({ type, station, subject, id, at, data }: LoggedStep<T>): void {
    const event: CloudEvent<T> = {
      specversion: '1.0',
      type,
      source: `/stations/${station}`,
      id,
      subject,
      time: shiftTime(at),
      datacontenttype: 'application/json',
      data,
    };
    this.told.push(event as StationCloudEvent);
  }

  get events(): readonly StationCloudEvent[] {
    return this.told;
  }
}
