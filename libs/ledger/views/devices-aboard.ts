import { Clearance } from '../../domain/clearance/clearance.js';
import { DeviceState, emptyWorld, UnitState, World } from '../../domain/book/state.js';
import { unitKey } from '../../domain/subject/subject.js';

/** A unit with the devices that its sites name, and the open clearances that reserve something of them. */
export function worldOfUnit(unit: UnitState, devices: readonly DeviceState[], clearances: readonly Clearance[]): World {
  const world = emptyWorld();
  for (const clearance of clearances) world.clearances.set(clearance.id, clearance);
  world.units.set(unitKey(unit.assembly, unit.serial), unit);
  for (const device of devices) world.devices.set(device.device, device);
  return world;
}

/** Whether a device's own record has it on this site too. */
export function isAboard(device: DeviceState, unit: UnitState, refdes: string): boolean {
  const { place } = device;
  return place?.assembly === unit.assembly && place.serial === unit.serial && place.refdes === refdes;
}
