import { Heat } from '../events/heat.js';
import { isKnownDry, needsDryBoard } from '../moisture/dry-for-heat.js';
import { MoistureClock, readClock, unknownClock } from '../moisture/moisture-clock.js';
import { moisturePart } from '../moisture/moisture-part.js';
import { UnitClock, unitClock } from '../moisture/unit-clock.js';
import { Rules } from '../setup/setup-data.js';
import { unitKey } from '../subject/subject.js';
import { deviceSubject, Judgement, SiteContext, UnitContext } from './judgement.js';
import { moistureOf } from './moisture-of.js';
import { DeviceState, UnitState, World } from './state.js';
import { breakRule, ruleFor } from './station-rules.js';

/** The moisture clock of a device at a time (RFC 3339), wherever it is. */
export function deviceClock(world: World, rules: Rules, device: DeviceState, asOf: string): MoistureClock {
  const part = device.part === null ? undefined : rules.find('part', device.part);
  if (part === undefined) {
    return unknownClock('its part, and so its moisture level, is not in the setup', 'Enter the part of the device.');
  }
  const { place } = device;
  const unit = place === null ? undefined : world.units.get(unitKey(place.assembly, place.serial));
  return readClock(moistureOf(device, unit), moisturePart(part.body), asOf);
}

/** The moisture clock of a unit at a time (RFC 3339): that of the most sensitive device aboard. */
export function clockOfUnit(world: World, rules: Rules, unit: UnitState, asOf: string): UnitClock {
  const clocks = Object.entries(unit.sites).flatMap(([refdes, site]) => {
    const device = site.device === null ? undefined : world.devices.get(site.device);
    const place = device?.place;
    const aboard = place?.refdes === refdes && place.serial === unit.serial && place.assembly === unit.assembly;
    return device !== undefined && aboard
      ? [{ device: device.device, clock: deviceClock(world, rules, device, asOf) }]
      : [];
  });
  return unitClock(clocks);
}

/** A device whose floor life is known to have run out must not be heated as it is. */
export function checkFloorLife(j: Judgement, device: DeviceState): void {
  const clock = deviceClock(j.world, j.rules, device, j.event.time);
  const subject = deviceSubject(device.device);
  const limit = clock.state === 'expired' ? ruleFor(j, 'floor-life', subject) : undefined;
  if (limit === undefined) return;
  breakRule(
    j,
    limit,
    subject,
    `Device ${device.device} was heated after its floor life: ${clock.why}.`,
    remedyOf(clock),
  );
}

/** The same for a board that goes through the oven with everything on it. */
export function checkBoardFloorLife(j: Judgement, unit: UnitContext): void {
  const clock = clockOfUnit(j.world, j.rules, unit.state, j.event.time);
  const limit = clock.state === 'expired' ? ruleFor(j, 'floor-life', unit.subject) : undefined;
  if (limit === undefined) return;
  breakRule(
    j,
    limit,
    unit.subject,
    `The board was reflowed after the floor life of a device on it: ${clock.why}.`,
    remedyOf(clock),
    clock.expired,
  );
}

function remedyOf({ remedy }: { readonly remedy: string | null }): string {
  const next = 'Look for delamination and popcorning, by acoustic microscopy where it matters, before it is used.';
  return remedy === null ? next : `${next} Before the next heat: ${remedy}`;
}

/** A body above 200 C in local rework asks for a board that is known to be dry; where it is not, it is worth a word. */
export function checkDryBoard(j: Judgement, at: SiteContext, heat: Heat): void {
  const bodies = heat.thermocouples.filter(({ position }) => position === 'body');
  const hottest = bodies.reduce((peakC, reading) => Math.max(peakC, reading.peakC), -Infinity);
  if (bodies.length === 0 || !needsDryBoard(hottest).needed) return;
  const dry = isKnownDry(clockOfUnit(j.world, j.rules, at.state, j.event.time));
  if (dry.dry) return;
  j.warn(
    'floor-life',
    at.subject,
    `A body reached ${String(hottest)} C on a board that is not known to be dry: ${dry.why}.`,
    dry.remedy ?? 'Bake the board before local rework above 200 C.',
  );
}
