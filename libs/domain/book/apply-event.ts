import { EVENT_SUBJECTS, EventOf, StationEvent, StationEventType } from '../events/station-event.js';
import { AssemblyDesign, Rules } from '../setup/setup-data.js';
import { parseStream } from '../subject/subject.js';
import { Effect } from './effect.js';
import { deviceRemoved, siteDressed, siteHeated, unitReflowed } from './heats.js';
import { deviceInspected, unitInspected } from './inspect.js';
import { Judgement, SiteContext, siteContext, unitContext, UnitContext } from './judgement.js';
import { deviceScrapped, unitScrapped, unitShipped } from './leave.js';
import { deviceDeballed, deviceReballed } from './loose-device.js';
import { devicePlaced } from './place-device.js';
import { devicesNamed } from './reach.js';
import { baked, exposureChanged } from './moisture-facts.js';
import { ensureDevice, ensureUnit } from './open-subjects.js';
import { deviceReceived, unitReceived } from './receive.js';
import { World } from './state.js';
import { checkClearance } from './clearance-rules.js';
import { checkCalibration, checkOperator } from './station-rules.js';

/** Why an event cannot be applied yet, and what would mend that. */
export interface ParkingReason {
  readonly code: 'unknown-assembly' | 'unknown-site' | 'unreadable';
  readonly detail: string;
  readonly remedy: string;
}

export type Outcome =
  | {
      readonly state: 'applied';
      readonly effects: readonly Effect[];
      /** Devices whose state was read or changed. */
      readonly devices: readonly string[];
    }
  | { readonly state: 'parked'; readonly reason: ParkingReason };

/**
 * Judges one event and changes the world by it. Events of the subjects in `world` must be applied in the order in which
 * they happened (`compareOrder`). An event that refers to what the setup does not have is parked and changes nothing.
 * @throws Error where `world` lacks a subject that `reach` names; the world is then spoilt and must be thrown away.
 * @throws RangeError where the event is of a type that this version does not know
 */
export function applyEvent(world: World, event: StationEvent, rules: Rules): Outcome {
  if (!Object.hasOwn(EVENT_SUBJECTS, event.type)) throw new RangeError(`unknown event type: ${event.type}`);
  const stream = parseStream(event.subject);
  if (stream?.kind === 'unit') {
    const design = rules.find('assembly', stream.assembly)?.body;
    const reason =
      design === undefined ? unknownAssembly(stream.assembly) : unknownSite(event, stream.assembly, design);
    if (design === undefined || reason !== undefined)
      return { state: 'parked', reason: reason ?? unknownAssembly(stream.assembly) };
    const j = new Judgement(world, rules, event);
    ensureUnit(j, stream.assembly, stream.serial, design);
    judgeUnitEvent(j, design);
    // Whatever it names is in the book from here on, so that the device's story leads back to this unit.
    for (const device of devicesNamed(event)) ensureDevice(j, device, null);
    return settled(j);
  }
  const j = new Judgement(world, rules, event);
  if (stream?.kind === 'device') judgeDeviceEvent(j, stream.device);
  else if (event.type === 'heatbook.bath.analysed.v1' && stream?.kind === 'station') {
    const { solderAlloy, leadPct, copperPct, sampledAt } = event.data;
    j.emit({ kind: 'bath', station: stream.station, solderAlloy, leadPct, copperPct, sampledAt });
  }
  return settled(j);
}

/** Marks everything that was read or changed with how far its story is told. */
function settled(j: Judgement): Outcome {
  const { order, subject } = j.event;
  const unit = j.world.units.get(subject);
  if (unit !== undefined) {
    unit.last = order;
    for (const device of j.touchedDevices) {
      if (!unit.devicesSeen.includes(device)) unit.devicesSeen.push(device);
    }
  }
  for (const name of j.touchedDevices) {
    const device = j.world.devices.get(name);
    if (device === undefined) continue;
    device.last = order;
    if (unit !== undefined && !device.unitsSeen.includes(subject)) device.unitsSeen.push(subject);
  }
  const station = j.world.stations.get(subject.slice('stations/'.length));
  if (station !== undefined && subject.startsWith('stations/')) station.last = order;
  return { state: 'applied', effects: j.effects, devices: [...j.touchedDevices] };
}

function unknownAssembly(assembly: string): ParkingReason {
  return {
    code: 'unknown-assembly',
    detail: `Assembly ${assembly} is not in the setup.`,
    remedy: `Enter it with PUT /v1/assemblies/${assembly}, then retry the event; ${ifMistyped('name')}`,
  };
}

function ifMistyped(what: string): string {
  return `where the ${what} was mistyped, have it annulled (POST /v1/annulments) and post the step again under a new id with the right one.`;
}

/** The reference designators by which an event says where something was done. */
function sitesNamed(event: StationEvent): readonly string[] {
  switch (event.type) {
    case 'heatbook.unit.received.v1':
      return [...(event.data.devices ?? []), ...(event.data.sites ?? [])].map(({ refdes }) => refdes);
    case 'heatbook.inspection.recorded.v1':
      return event.data.target.refdes === undefined ? [] : [event.data.target.refdes];
    case 'heatbook.device.removed.v1':
    case 'heatbook.device.placed.v1':
    case 'heatbook.site.dressed.v1':
    case 'heatbook.site.heated.v1':
    case 'heatbook.site.cleaned.v1':
    case 'heatbook.site.repaired.v1':
      return [event.data.refdes];
    default:
      return [];
  }
}

function unknownSite(event: StationEvent, assembly: string, design: AssemblyDesign): ParkingReason | undefined {
  const known = (refdes: string): boolean => design.sites.some((site) => site.refdes === refdes);
  const unknown = sitesNamed(event).find((refdes) => !known(refdes));
  return unknown === undefined
    ? undefined
    : {
        code: 'unknown-site',
        detail: `Assembly ${assembly} has no site ${unknown}.`,
        remedy: `Add ${unknown} to the assembly with PUT /v1/assemblies/${assembly}, then retry; ${ifMistyped('designator')}`,
      };
}

/** Narrows a judgement to one event type; the caller has looked at `event.type`. */
type On<T extends StationEventType> = Judgement<EventOf<T>>;

function judgeUnitEvent(j: Judgement, design: AssemblyDesign): void {
  const unit = unitContext(j, design);
  checkStanding(j, unit);
  checkCalibration(j);
  checkOperator(j);
  checkClearance(j);
  const { event } = j;
  switch (event.type) {
    case 'heatbook.unit.received.v1':
      unitReceived(j as On<typeof event.type>, unit);
      return;
    case 'heatbook.unit.baked.v1':
      baked(j as On<typeof event.type>);
      return;
    case 'heatbook.exposure.started.v1':
    case 'heatbook.exposure.stopped.v1':
      exposureChanged(j as On<typeof event.type>);
      return;
    case 'heatbook.unit.reflowed.v1':
      unitReflowed(j as On<typeof event.type>, unit);
      return;
    case 'heatbook.inspection.recorded.v1':
      unitInspected(j as On<typeof event.type>, unit);
      return;
    case 'heatbook.unit.shipped.v1':
      unitShipped(j as On<typeof event.type>, unit);
      return;
    case 'heatbook.unit.scrapped.v1':
      unitScrapped(j as On<typeof event.type>, unit);
      return;
    case 'heatbook.device.removed.v1':
      deviceRemoved(j as On<typeof event.type>, siteContext(j, unit, event.data.refdes));
      return;
    case 'heatbook.site.dressed.v1':
      siteDressed(j as On<typeof event.type>, siteContext(j, unit, event.data.refdes));
      return;
    case 'heatbook.device.placed.v1':
      devicePlaced(j as On<typeof event.type>, siteContext(j, unit, event.data.refdes));
      return;
    case 'heatbook.site.heated.v1':
      siteHeated(j as On<typeof event.type>, siteContext(j, unit, event.data.refdes));
      return;
    case 'heatbook.site.cleaned.v1':
      siteCleaned(j, siteContext(j, unit, event.data.refdes));
      return;
    case 'heatbook.site.repaired.v1':
      siteRepaired(j, siteContext(j, unit, event.data.refdes));
      return;
    case 'heatbook.device.received.v1':
    case 'heatbook.device.baked.v1':
    case 'heatbook.device.deballed.v1':
    case 'heatbook.device.reballed.v1':
    case 'heatbook.device.scrapped.v1':
    case 'heatbook.bath.analysed.v1':
      // Its subject cannot be a unit: the shape check has turned it away.
      return;
  }
}

function siteCleaned(j: Judgement, at: SiteContext): void {
  if (at.site.condition !== 'to-clean') return;
  const condition = at.site.device === null ? 'dressed' : 'fitted';
  j.emit({ kind: 'site', unit: at.key, refdes: at.refdes, condition });
}

/** Repaired pads want dressing before anything is placed on them. */
function siteRepaired(j: Judgement, at: SiteContext): void {
  const condition = at.site.device === null ? 'to-dress' : 'fitted';
  j.emit({ kind: 'site', unit: at.key, refdes: at.refdes, condition });
}

/** Work on a unit that is not known to be in the house: kept, and either warned about or held. */
function checkStanding(j: Judgement, unit: UnitContext): void {
  if (j.event.type === 'heatbook.unit.received.v1') return;
  const { status, received } = unit.state;
  // Scrap may go back to its owner.
  const leaves = status === 'scrapped' && j.event.type === 'heatbook.unit.shipped.v1';
  if (leaves) return;
  if (status === 'shipped' || status === 'scrapped') {
    j.hold(
      'sequence-broken',
      unit.subject,
      { summary: `${j.event.type} was posted for a unit that had been ${status}.` },
      'Post the receipt of the unit if it came back, or correct the serial number.',
    );
  } else if (!received) {
    j.warn(
      'not-received',
      unit.subject,
      'The unit was worked on before its receipt was posted, so its history is what its assembly lets one assume.',
      'Post heatbook.unit.received.v1 with the time at which it came in.',
    );
  }
}

function judgeDeviceEvent(j: Judgement, name: string): void {
  const { event } = j;
  // Rules look the device up, so it is opened first, whatever it is that is said of it.
  ensureDevice(j, name, event.type === 'heatbook.device.received.v1' ? event.data.part : null);
  checkCalibration(j);
  checkOperator(j);
  checkClearance(j);
  switch (event.type) {
    case 'heatbook.device.received.v1':
      deviceReceived(j as On<typeof event.type>, name);
      return;
    case 'heatbook.device.baked.v1':
      baked(j as On<typeof event.type>);
      return;
    case 'heatbook.exposure.started.v1':
    case 'heatbook.exposure.stopped.v1':
      exposureChanged(j as On<typeof event.type>);
      return;
    case 'heatbook.device.deballed.v1':
      deviceDeballed(j as On<typeof event.type>, name);
      return;
    case 'heatbook.device.reballed.v1':
      deviceReballed(j as On<typeof event.type>, name);
      return;
    case 'heatbook.device.scrapped.v1':
      deviceScrapped(j as On<typeof event.type>, name);
      return;
    case 'heatbook.inspection.recorded.v1':
      deviceInspected(j as On<typeof event.type>, name);
      return;
    default:
      // Its subject cannot be a device: the shape check has turned it away.
      return;
  }
}
