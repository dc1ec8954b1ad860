import { DeviceState, UnitState, World } from './state.js';

/** The devices that both the unit's site table and their own records have on the unit. */
export function devicesHere(world: World, unit: UnitState): DeviceState[] {
  const here: DeviceState[] = [];
  for (const [refdes, { device: name }] of Object.entries(unit.sites)) {
    const device = name === null ? undefined : world.devices.get(name);
    const place = device?.place;
    const isHere = place?.refdes === refdes && place.serial === unit.serial && place.assembly === unit.assembly;
    if (device !== undefined && isHere) here.push(device);
  }
  return here;
}
