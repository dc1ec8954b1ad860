import { FloorLifeEnd, floorLifeEnd } from '../moisture/floor-life-end.js';
import { moisturePart } from '../moisture/moisture-part.js';
import { Rules } from '../setup/setup-data.js';
import { devicesHere } from './devices-here.js';
import { moistureOf } from './moisture-of.js';
import { DeviceState, UnitState, World } from './state.js';

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
  for (const device of devicesHere(world, unit)) {
    const known = device.mountedAt === null && device.part !== null ? shared.get(device.part) : undefined;
    const end = known === undefined ? endOf(rules, device, unit) : known;
    if (device.mountedAt === null && device.part !== null) shared.set(device.part, end);
    if (end !== null && (first === null || end.endsAt < first.endsAt)) first = end;
  }
  return first;
}

function endOf(rules: Rules, device: DeviceState, unit: UnitState | undefined): ClockEnd | null {
  const part = device.part === null ? undefined : rules.find('part', device.part);
  if (part === undefined) return null;
  const end = floorLifeEnd(moistureOf(device, unit), moisturePart(part.body));
  return end === null ? null : { ...end, device: device.device };
}
