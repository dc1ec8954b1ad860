import { DeviceDeballed, StationEventData, StationEventType } from '../../../libs/domain/events/station-event.js';
import { Heat } from '../../../libs/domain/events/heat.js';
import { spanOf } from './bench-heat.js';
import { ShiftLog } from './shift-log.js';
import { shiftTime } from './shift-time.js';
import { tracedHeat } from './traces/traced-heat.js';

/** How the die was watched: its peak, C, or the name of the trace that was logged. */
type DieWatch = number | string;

/** One loose device on its way through the house. `now` is the minute of the shift at which its last step ended. */
export class DeviceJob {
  private steps = 0;

  constructor(
    private readonly log: ShiftLog,
    readonly name: string,
    public now: number,
  ) {}

  step<T extends StationEventType>(type: T, station: string, minutes: number, data: StationEventData[T]): void {
    this.now += minutes;
    this.steps += 1;
    const id = `${this.name}:${String(this.steps).padStart(2, '0')}`;
    this.log.record({ type, station, subject: `devices/${this.name}`, id, at: this.now, data });
  }

  /** Takes a new device in, in its dry pack. */
  received(part: string, packSealedAt = '2026-02-20T09:00:00+01:00'): this {
    const week = String(this.log.random.whole(2, 7)).padStart(2, '0');
    this.step('heatbook.device.received.v1', 'RECV-1', 1, {
      part,
      lot: `L26${week}`,
      dateCode: `26${week}`,
      owner: 'house stock',
      priorExcursions: 0,
      packSealedAt,
    });
    return this;
  }

  /** Opens the dry pack at a bench. */
  opened(station: string, at: number, air = { ambientC: 23, relativeHumidityPct: 45 }): void {
    this.now = at;
    this.step('heatbook.exposure.started.v1', station, 0, { storage: 'open', ...air });
  }

  toDryCabinet(): void {
    this.step('heatbook.exposure.stopped.v1', 'REBALL-1', 10, { storage: 'dry-cabinet', relativeHumidityPct: 4 });
  }

  /** Bakes an opened pack over night. */
  bakedOverNight(from: number, to: number): void {
    const bake = { temperatureC: 125, startedAt: shiftTime(from), endedAt: shiftTime(to) };
    this.step('heatbook.device.baked.v1', 'OVEN-1', to - this.now, bake);
  }

  /** Takes the balls off, with a thermocouple on the die. */
  deballed(method: DeviceDeballed['method'], die: DieWatch, solderAlloy: string): void {
    const from = this.now + 12;
    const fountain = method === 'fountain' ? { solderC: 255 } : {};
    this.step('heatbook.device.deballed.v1', method === 'fountain' ? 'FOUNT-1' : 'REBALL-1', 19, {
      method,
      solderAlloy,
      contactSeconds: method === 'fountain' ? 6 : 9,
      ...fountain,
      operator: 'op-106',
      heat: watchedHeat(die, from, 6),
    });
  }

  inspected(): void {
    this.step('heatbook.inspection.recorded.v1', 'INSP-1', 6, {
      target: { kind: 'device', device: this.name },
      technique: 'visual',
      result: 'pass',
      operator: 'op-201',
    });
  }

  /** Puts balls on: one by one with the die watched, or all at once under hot gas with nothing on it. */
  reballed(ballDiameterMm: number, die?: DieWatch): void {
    const from = this.now + 8;
    const minutes = typeof die === 'number' ? 22 : 7;
    this.step('heatbook.device.reballed.v1', 'REBALL-1', 8 + minutes, {
      ballAlloy: 'SAC305',
      ballDiameterMm,
      operator: 'op-106',
      lots: { balls: 'BL-2604', flux: 'FX-2611' },
      heat: die === undefined ? spanOf(from, from + minutes, []) : watchedHeat(die, from, minutes),
    });
  }
}

function watchedHeat(die: DieWatch, from: number, minutes: number): Heat {
  if (typeof die === 'string') return tracedHeat(die, from);
  return spanOf(from, from + minutes, [{ id: 'TC1', position: 'die', peakC: die }]);
}
