import { Heat, ThermocoupleSummary } from '../../../libs/domain/events/heat.js';
import {
  InspectionRecorded,
  SiteDressed,
  StationEventData,
  StationEventType,
  UnitReceived,
} from '../../../libs/domain/events/station-event.js';
import { SiteDesign } from '../../../libs/domain/setup/setup-data.js';
import { hotGasHeat, spanOf } from './bench-heat.js';
import { DEMO_ASSEMBLIES } from '../../../libs/simulator/boards/demo-assemblies.js';
import { profileAlloy, ProfilePurpose } from '../../../libs/simulator/boards/demo-profiles.js';
import { DeviceJob } from './device-job.js';
import { dressingStep } from '../../../libs/simulator/dressing-step.js';
import { Lane } from './lane.js';
import { ShiftLog } from './shift-log.js';
import { onSecondDay, shiftTime } from './shift-time.js';
import { tracedHeat } from './traces/traced-heat.js';

/** What a story wants otherwise than the ordinary step has it. */
export interface HeatWish {
  readonly revision?: string;
  /** Further thermocouples, such as one on a neighbour. */
  readonly readings?: readonly ThermocoupleSummary[];
  /** The whole heat. */
  readonly heat?: Heat;
  /** Name of the trace that was logged of it, and sums it up. */
  readonly trace?: string;
}

const BAKE_FROM = onSecondDay(-7);
const BAKE_TO = onSecondDay(5);

/** One board on its way through the house. `now` is the minute of the shift at which its last step ended. */
export class UnitJob {
  now: number;
  private steps = 0;

  constructor(
    private readonly log: ShiftLog,
    readonly assembly: string,
    readonly serial: string,
    readonly lane: Lane,
    receivedAt: number,
  ) {
    this.now = receivedAt;
  }

  get key(): string {
    return `${this.assembly}/${this.serial}`;
  }

  design(refdes: string): SiteDesign {
    const site = DEMO_ASSEMBLIES[this.assembly]?.sites.find((one) => one.refdes === refdes);
    if (site === undefined) throw new Error(`no site ${refdes} on ${this.assembly}`);
    return site;
  }

  step<T extends StationEventType>(
    type: T,
    station: string,
    minutes: number,
    data: StationEventData[T],
    id?: string,
  ): void {
    this.now += minutes;
    this.steps += 1;
    const own = `${this.assembly}:${this.serial}:${String(this.steps).padStart(2, '0')}`;
    this.log.record({ type, station, subject: this.key, id: id ?? own, at: this.now, data });
  }

  /** Receipt, dry bake over night, and out of the oven to the bench. */
  received(data: UnitReceived = {}): this {
    const workOrder = `WO-${this.serial}`;
    const complaint = 'functional test failed';
    const sites = (DEMO_ASSEMBLIES[this.assembly]?.sites ?? []).map(({ refdes }) => ({ refdes, priorReworks: 0 }));
    this.step('heatbook.unit.received.v1', 'RECV-1', 0, { workOrder, complaint, sites, ...data });
    this.step('heatbook.unit.baked.v1', 'OVEN-1', BAKE_TO - this.now, {
      temperatureC: 105,
      relativeHumidityPct: 4,
      startedAt: shiftTime(BAKE_FROM),
      endedAt: shiftTime(BAKE_TO),
    });
    this.step('heatbook.exposure.started.v1', 'OVEN-1', 10, {
      storage: 'open',
      ambientC: 23,
      relativeHumidityPct: 45,
    });
    this.now = Math.max(this.now, this.lane.freeAt);
    return this;
  }

  /** Takes a device off: to scrap, or to keep under the name on its label. */
  removed(refdes: string, keepAs?: string, wish: HeatWish = {}): void {
    const fate = keepAs === undefined ? { fate: 'scrap' as const } : { fate: 'keep' as const, device: keepAs };
    this.step('heatbook.device.removed.v1', this.lane.hotGas, 14, {
      refdes,
      ...fate,
      profile: this.profile(refdes, 'OFF', wish.revision),
      heat: this.heat(refdes, 'OFF', 8, wish),
      operator: this.lane.operator,
    });
  }

  dressed(refdes: string, method: SiteDressed['method'], more: Partial<SiteDressed> = {}, id?: string): void {
    const solderAlloy = more.solderAlloy ?? this.design(refdes).jointAlloy;
    const station = this.dressingStation(method, solderAlloy);
    const from = this.now + 4;
    const order = {
      refdes,
      method,
      solderAlloy,
      operator: this.lane.operator,
      heat: (minutes: number, thermocouples: readonly ThermocoupleSummary[]) =>
        spanOf(from, from + minutes, thermocouples),
      profile: (purpose: ProfilePurpose) => this.profile(refdes, purpose),
    };
    this.step('heatbook.site.dressed.v1', station, 10, { ...dressingStep(this.log.random, order), ...more }, id);
  }

  /** Leaded and lead-free solder never share a fountain. */
  private dressingStation(method: SiteDressed['method'], solderAlloy: string): string {
    if (method === 'coupon') return this.lane.hotGas;
    if (method !== 'fountain') return this.lane.dress;
    return solderAlloy === 'Sn63Pb37' ? 'FOUNT-2' : 'FOUNT-1';
  }

  cleaned(refdes: string): void {
    this.step('heatbook.site.cleaned.v1', this.lane.dress, 5, { refdes, agent: 'solvent wipe' });
  }

  inspected(refdes: string, technique: InspectionRecorded['technique'], more: Partial<InspectionRecorded> = {}): void {
    this.step('heatbook.inspection.recorded.v1', technique === 'xray' ? 'XRAY-1' : 'INSP-1', 5, {
      target: { kind: 'site', refdes },
      technique,
      result: 'pass',
      operator: this.lane.inspector,
      ...more,
    });
  }

  /** Puts a device on; one from a dry pack has the pack opened first. */
  placed(refdes: string, device: DeviceJob, wish: HeatWish & { at?: string } = {}): void {
    this.now = Math.max(this.now, device.now + 5);
    const where = wish.at ?? refdes;
    const pasted = this.design(refdes).part.endsWith('L');
    const attach = pasted
      ? { attach: 'paste' as const, pasteAlloy: 'Sn63Pb37', pasteVolumeMm3: 9.2 }
      : { attach: 'flux' as const };
    this.step('heatbook.device.placed.v1', this.lane.hotGas, 17, {
      refdes: where,
      device: device.name,
      part: this.design(refdes).part,
      ...attach,
      profile: this.profile(where, 'ON', wish.revision),
      heat: this.heat(refdes, 'ON', 9, wish),
      operator: this.lane.operator,
    });
  }

  /** Takes a new device from stock: received the day before, its pack opened now. */
  fresh(name: string, refdes: string): DeviceJob {
    const device = this.stocked(name, refdes);
    device.opened(this.lane.hotGas, this.now + 1);
    return device;
  }

  /** A new device that stays in its pack. */
  stocked(name: string, refdes: string): DeviceJob {
    const receivedAt = 100 + this.log.random.whole(0, 60);
    return new DeviceJob(this.log, name, receivedAt).received(this.design(refdes).part);
  }

  /** What a joint is looked at for after its device went on. */
  finished(refdes: string): void {
    this.cleaned(refdes);
    this.inspected(refdes, 'visual');
    const voids = [1, 2, 3].map((row) => ({
      joint: `A${String(row)}`,
      fraction: this.log.random.figure(0.03, 0.18, 2),
    }));
    this.inspected(refdes, 'xray', { voids });
  }

  shipped(): void {
    this.step('heatbook.unit.shipped.v1', 'SHIP-1', 20, {});
  }

  profile(refdes: string, purpose: ProfilePurpose, revision = 'B'): { name: string; revision: string } {
    return { name: `${this.assembly}-${refdes}-${purpose}`, revision };
  }

  private heat(refdes: string, purpose: ProfilePurpose, minutes: number, wish: HeatWish): Heat {
    if (wish.heat !== undefined) return wish.heat;
    // The board is clamped and the nozzle lowered first; the summary is written a minute after the heat.
    const from = this.now + 4;
    if (wish.trace !== undefined) return tracedHeat(wish.trace, from);
    return hotGasHeat(
      this.log.random,
      profileAlloy(this.design(refdes), purpose),
      [from, from + minutes],
      wish.readings,
    );
  }

  /** Leaves the bench to the next board. Bench work ends before the papers and the parcel. */
  leavesBench(): void {
    this.lane.freeAt = this.now;
  }
}
