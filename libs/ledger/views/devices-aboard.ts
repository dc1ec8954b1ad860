import { evolve } from '../../domain/book/evolve.js';
import { DeviceState, emptyWorld, UnitState, World } from '../../domain/book/state.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { unitKey } from '../../domain/subject/subject.js';

/**
 * A unit with the devices that its sites name. A device that no event has touched yet has no record: it is as its site
 * is, with the past that the site has. The unit is not changed.
 */
export function worldOfUnit(unit: UnitState, known: readonly DeviceState[], rules: Rules): World {
  const { assembly, serial } = unit;
  const world = emptyWorld();
  world.units.set(unitKey(assembly, serial), unit);
  for (const device of known) world.devices.set(device.device, device);
  const design = rules.find('assembly', assembly)?.body;
  for (const [refdes, site] of Object.entries(unit.sites)) {
    if (site.device === null || world.devices.has(site.device)) continue;
    const part = design?.sites.find((one) => one.refdes === refdes)?.part ?? null;
    const place = { assembly, serial, refdes };
    evolve(world, { kind: 'device-opened', device: site.device, part, place, prior: site.excursions.prior });
  }
  return world;
}

/** Whether a device's own record has it on this site too. */
export function isAboard(device: DeviceState, unit: UnitState, refdes: string): boolean {
  const { place } = device;
  return place?.assembly === unit.assembly && place.serial === unit.serial && place.refdes === refdes;
}
