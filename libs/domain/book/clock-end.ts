import { FloorLifeEnd, floorLifeEnd } from '../moisture/floor-life-end.js';
import { moisturePart } from '../moisture/moisture-part.js';
import { Rules } from '../setup/setup-data.js';
import { unitKey } from '../subject/subject.js';
import { moistureOf } from './moisture-of.js';
import { DeviceState, SiteState, UnitState, World } from './state.js';

export interface ClockEnd extends FloorLifeEnd {
  /** The device whose floor life ends then. */
  readonly device: string;
}

/** When the floor life of a loose device ends; null where it is not loose or no known clock runs. */
export function clockEndOfDevice(rules: Rules, device: DeviceState): ClockEnd | null {
  return device.status === 'loose' ? endOf(rules, device, undefined) : null;
}

/** When the first floor life on a unit in the house ends; null where it is not in the house or no known clock runs. */
export function clockEndOfUnit(world: World, rules: Rules, unit: UnitState): ClockEnd | null {
  if (unit.status !== 'in-house') return null;
  // Devices that came with their unit share its story, so that those of one part share their end.
  const shared = new Map<string, ClockEnd | null>();
  let first: ClockEnd | null = null;
  for (const device of aboard(world, unit)) {
    const known = device.mountedAt === null && device.part !== null ? shared.get(device.part) : undefined;
    const end = known === undefined ? endOf(rules, device, unit) : known;
    if (device.mountedAt === null && device.part !== null) shared.set(device.part, end);
    if (end !== null && (first === null || end.endsAt < first.endsAt)) first = end;
  }
  return first;
}

function aboard(world: World, unit: UnitState): DeviceState[] {
  const key = unitKey(unit.assembly, unit.serial);
  return Object.entries(unit.sites).flatMap(([refdes, { device: name }]: [string, SiteState]) => {
    const device = name === null ? undefined : world.devices.get(name);
    const place = device?.place;
    const isHere = place?.refdes === refdes && unitKey(place.assembly, place.serial) === key;
    return device !== undefined && isHere ? [device] : [];
  });
}

function endOf(rules: Rules, device: DeviceState, unit: UnitState | undefined): ClockEnd | null {
  const part = device.part === null ? undefined : rules.find('part', device.part);
  if (part === undefined) return null;
  const end = floorLifeEnd(moistureOf(device, unit), moisturePart(part.body));
  return end === null ? null : { ...end, device: device.device };
}
