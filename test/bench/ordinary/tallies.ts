import { Counting } from './counting.js';
import { Effect } from './effect.js';
import { Device } from './entities/device.js';
import { Site } from './entities/site.js';
import { Unit } from './entities/unit.js';
import { EventFacts } from './event-data.dto.js';
import { existing, LockedRows, nativeDevice } from './locked-rows.js';
import { melts } from './melts.js';

/**
 * Counts what an event spends and moves on where things are, in the rows. Counts come out the same in whatever order events
 * are worked; where and in what state a thing is follows from the latest event by its time.
 * @param time when it happened
 * @returns what it changed
 */
export function tally(facts: EventFacts, time: Date, { chain, sites, devices }: LockedRows): Effect[] {
  const counting = new Counting(time);
  const site = (refdes: string): Site => existing(sites.get(refdes), refdes);
  const device = (name: string): Device => existing(devices.get(name), name);
  if (chain instanceof Unit) {
    countOnUnit(facts, counting, site, device);
    counting.unitStatus(chain, facts.type);
  } else {
    countLoose(facts, counting, chain);
  }
  counting.stamp([chain, ...sites.values(), ...devices.values()]);
  return counting.effects;
}

function countOnUnit(
  { type, data }: EventFacts,
  counting: Counting,
  site: (refdes: string) => Site,
  device: (name: string) => Device,
): void {
  switch (type) {
    case 'heatbook.unit.received.v1':
      for (const { refdes, device: name, priorExcursions } of data.devices ?? []) {
        const mounted = device(name ?? nativeDevice(site(refdes)));
        if (priorExcursions !== undefined) counting.priorExcursions(mounted, priorExcursions);
        counting.mount(site(refdes), mounted.name);
        counting.deviceStatus(mounted, 'placed');
      }
      for (const { refdes, priorReworks } of data.sites ?? []) {
        if (priorReworks !== undefined) counting.priorReworks(site(refdes), priorReworks);
      }
      break;
    case 'heatbook.device.removed.v1': {
      const removed = device(data.device ?? site(data.refdes).device ?? nativeDevice(site(data.refdes)));
      counting.heat(site(data.refdes));
      counting.rework(site(data.refdes));
      // What is scrapped has nothing left to spend.
      if (data.fate === 'keep' && melts(data.heat, data.refdes)) counting.excursion(removed);
      counting.mount(site(data.refdes), null);
      counting.deviceStatus(removed, data.fate === 'keep' ? 'loose' : 'scrapped');
      break;
    }
    case 'heatbook.device.placed.v1': {
      const placed = device(data.device);
      counting.heat(site(data.refdes));
      if (melts(data.heat, data.refdes)) counting.excursion(placed);
      counting.mount(site(data.refdes), placed.name);
      counting.deviceStatus(placed, 'placed');
      break;
    }
    case 'heatbook.site.dressed.v1':
      counting.dressing(site(data.refdes), data.passes, data.contactSeconds);
      break;
    case 'heatbook.inspection.recorded.v1':
      if (data.target.refdes !== undefined) counting.inspection(site(data.target.refdes), data.result);
      break;
    case 'heatbook.unit.baked.v1':
    case 'heatbook.unit.shipped.v1':
    case 'heatbook.site.cleaned.v1':
    case 'heatbook.device.received.v1':
    case 'heatbook.device.reballed.v1':
      break;
  }
}

function countLoose({ type, data }: EventFacts, counting: Counting, device: Device): void {
  switch (type) {
    case 'heatbook.device.received.v1':
      device.part = data.part;
      if (data.priorExcursions !== undefined) counting.priorExcursions(device, data.priorExcursions);
      counting.deviceStatus(device, 'loose');
      break;
    case 'heatbook.device.reballed.v1':
      if (melts(data.heat)) counting.excursion(device);
      break;
    default:
      break;
  }
}
