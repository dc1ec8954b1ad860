import { Effect } from './effect.js';
import { Device, DeviceStatus } from './entities/device.js';
import { Site } from './entities/site.js';
import { Unit, UnitStatus } from './entities/unit.js';
import { EventType } from './event-data.dto.js';
import { ALLOWED, justPassed, LimitKind } from './limits.js';

/** Changes rows by one event and keeps what it changed. */
export class Counting {
  readonly effects: Effect[] = [];

  /** @param time when the event happened */
  constructor(private readonly time: Date) {}

  excursion(device: Device): void {
    device.excursions += 1;
    const count = device.priorExcursions + device.excursions;
    this.effects.push({ kind: 'excursion-counted', subject: nameOf(device), count });
    this.judge('device-excursions', nameOf(device), count - 1, count);
  }

  /** What was declared takes the place of what was assumed. */
  priorExcursions(device: Device, count: number): void {
    const before = device.priorExcursions + device.excursions;
    device.priorExcursions = count;
    this.effects.push({ kind: 'history-declared', subject: nameOf(device), count });
    this.judge('device-excursions', nameOf(device), before, count + device.excursions);
  }

  rework(site: Site): void {
    site.reworks += 1;
    const count = site.priorReworks + site.reworks;
    this.effects.push({ kind: 'rework-counted', subject: nameOf(site), count });
    this.judge('site-reworks', nameOf(site), count - 1, count);
  }

  priorReworks(site: Site, count: number): void {
    const before = site.priorReworks + site.reworks;
    site.priorReworks = count;
    this.effects.push({ kind: 'history-declared', subject: nameOf(site), count });
    this.judge('site-reworks', nameOf(site), before, count + site.reworks);
  }

  heat(site: Site): void {
    site.heats += 1;
    this.effects.push({ kind: 'heat-counted', subject: nameOf(site), count: site.heats });
  }

  dressing(site: Site, passes: number, contactSeconds: number): void {
    site.dressingPasses += passes;
    site.contactSeconds += contactSeconds;
    this.effects.push({ kind: 'dressed', subject: nameOf(site), passes, contactSeconds });
  }

  inspection(site: Site, result: 'pass' | 'fail'): void {
    if (this.isLatest(site.lastEventAt)) site.inspection = result;
    this.effects.push({ kind: 'inspected', subject: nameOf(site), result });
  }

  mount(site: Site, device: string | null): void {
    if (!this.isLatest(site.deviceChangedAt)) return;
    site.device = device;
    site.deviceChangedAt = this.time;
    this.effects.push({ kind: 'device-changed', subject: nameOf(site), device });
  }

  deviceStatus(device: Device, status: DeviceStatus): void {
    if (!this.isLatest(device.lastEventAt) || device.status === status) return;
    device.status = status;
    this.effects.push({ kind: 'status-changed', subject: nameOf(device), status });
  }

  unitStatus(unit: Unit, type: EventType): void {
    const status = statusAfter(type);
    if (!this.isLatest(unit.lastEventAt) || unit.status === status) return;
    unit.status = status;
    this.effects.push({ kind: 'status-changed', subject: unit.name, status });
  }

  /** Notes when these were last heard of. To be called after all else. */
  stamp(rows: readonly { lastEventAt: Date | null }[]): void {
    for (const row of rows) {
      if (this.isLatest(row.lastEventAt)) row.lastEventAt = this.time;
    }
  }

  private isLatest(before: Date | null): boolean {
    return before === null || this.time >= before;
  }

  private judge(limit: LimitKind, subject: string, before: number, used: number): void {
    if (!justPassed(limit, before, used)) return;
    this.effects.push({ kind: 'hold-raised', subject, limit, used, allowed: ALLOWED[limit] });
  }
}

function nameOf(row: Device | Site): string {
  return row instanceof Device ? `devices/${row.name}` : `${row.unit}/${row.refdes}`;
}

function statusAfter(type: EventType): UnitStatus {
  switch (type) {
    case 'heatbook.unit.received.v1':
      return 'received';
    case 'heatbook.unit.shipped.v1':
      return 'shipped';
    default:
      return 'in-work';
  }
}
