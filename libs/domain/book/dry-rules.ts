import { Heat } from '../events/heat.js';
import { isKnownDry, needsDryBoard } from '../moisture/dry-for-heat.js';
import { isDryAt, isExpired } from '../moisture/known-dry.js';
import { MoistureClock, readClock, unknownClock } from '../moisture/moisture-clock.js';
import { MoistureLedger } from '../moisture/moisture-ledger.js';
import { moisturePart } from '../moisture/moisture-part.js';
import { UnitClock, unitClock } from '../moisture/unit-clock.js';
import { Rules } from '../setup/setup-data.js';
import { unitKey } from '../subject/subject.js';
import { devicesHere } from './devices-here.js';
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
  return readClock(moistureHere(world, device), moisturePart(part.body), asOf);
}

/** The moisture clock of a unit at a time (RFC 3339): that of the most sensitive device aboard. */
export function clockOfUnit(world: World, rules: Rules, unit: UnitState, asOf: string): UnitClock {
  return unitClock(
    devicesHere(world, unit).map((device) => ({
      device: device.device,
      clock: deviceClock(world, rules, device, asOf),
    })),
  );
}

/** A device whose floor life is known to have run out must not be heated as it is. */
export function checkFloorLife(j: Judgement, device: DeviceState): void {
  if (!askMoisture(j, device, isExpired)) return;
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
  if (!devicesHere(j.world, unit.state).some((device) => askMoisture(j, device, isExpired))) return;
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
  if (isBoardDry(j, at.state)) return;
  const dry = isKnownDry(clockOfUnit(j.world, j.rules, at.state, j.event.time));
  j.warn(
    'floor-life',
    at.subject,
    `A body reached ${String(hottest)} C on a board that is not known to be dry: ${dry.why}.`,
    dry.remedy ?? 'Bake the board before local rework above 200 C.',
  );
}

/** Whether `isKnownDry` says so of the unit's clock: a board that carries something, and all of it dry. */
function isBoardDry(j: Judgement, unit: UnitState): boolean {
  const devices = devicesHere(j.world, unit);
  // Devices that came with their unit share its story, so that those of one part share their answer.
  const dryParts = new Set<string>();
  for (const device of devices) {
    const shares = device.mountedAt === null && device.part !== null ? device.part : undefined;
    if (shares !== undefined && dryParts.has(shares)) continue;
    if (!askMoisture(j, device, isDryAt)) return false;
    if (shares !== undefined) dryParts.add(shares);
  }
  return devices.length > 0;
}

/** Asks of what a device has lain in, as of the event; no where its part is not in the setup. */
function askMoisture(j: Judgement, device: DeviceState, ask: typeof isExpired): boolean {
  const part = device.part === null ? undefined : j.rules.find('part', device.part);
  return part !== undefined && ask(moistureHere(j.world, device), moisturePart(part.body), j.event.time);
}

function moistureHere(world: World, device: DeviceState): MoistureLedger {
  const { place } = device;
  return moistureOf(device, place === null ? undefined : world.units.get(unitKey(place.assembly, place.serial)));
}
