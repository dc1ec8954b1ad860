import { unitKey } from '../subject/subject.js';
import { Effect, SiteOpening } from './effect.js';
import { isLeaded } from '../heat/alloys.js';
import { advance, EMPTY_MOISTURE, MoistureFact } from '../moisture/moisture-ledger.js';
import { moistureOf } from './moisture-of.js';
import { DeviceState, SiteState, UnitState, Warning, World } from './state.js';
import { emptyTally, Tally, UNKNOWN_PRIOR } from './tally.js';

/** Applies one effect to the world, in place. Effects come from `applyEvent`, which has checked that their subjects exist. */
export function evolve(world: World, effect: Effect): void {
  switch (effect.kind) {
    case 'unit-opened':
      world.units.set(unitKey(effect.assembly, effect.serial), openedUnit(effect));
      return;
    case 'sites-opened':
      Object.assign(unitOf(world, effect.unit).sites, openedSites(effect.sites));
      return;
    case 'unit-status':
      unitOf(world, effect.unit).status = effect.status;
      return;
    case 'unit-received': {
      const unit = unitOf(world, effect.unit);
      unit.received = true;
      unit.workOrder = effect.workOrder ?? unit.workOrder;
      unit.complaint = effect.complaint ?? unit.complaint;
      return;
    }
    case 'device-opened':
      openDevice(world, effect);
      return;
    case 'device-described': {
      const device = deviceOf(world, effect.device);
      device.part = effect.part;
      device.lot = effect.lot ?? device.lot;
      device.dateCode = effect.dateCode ?? device.dateCode;
      device.owner = effect.owner ?? device.owner;
      return;
    }
    case 'device-named':
      renameDevice(world, effect.formerly, effect.device);
      return;
    case 'prior':
      changeTally(world, effect, (tally) => ({ ...tally, prior: effect.prior }));
      return;
    case 'counted':
      changeTally(world, effect, (tally) => ({ ...tally, counted: [...tally.counted, effect.count] }));
      return;
    case 'possible':
      changeTally(world, effect, (tally) => ({ ...tally, possible: [...tally.possible, effect.count] }));
      return;
    case 'clear':
      return;
    case 'mounted':
      mount(world, effect);
      return;
    case 'unmounted':
      unmount(world, effect);
      return;
    case 'device-status': {
      const device = deviceOf(world, effect.device);
      device.status = effect.status;
      device.place = null;
      device.mountedAt = null;
      return;
    }
    case 'balls':
      deviceOf(world, effect.device).balls = effect.balls;
      return;
    case 'site':
      siteOf(world, effect.unit, effect.refdes).condition = effect.condition;
      return;
    case 'site-alloys':
      siteOf(world, effect.unit, effect.refdes).alloys = effect.alloys;
      return;
    case 'solder-contact':
      siteOf(world, effect.unit, effect.refdes).contacts.push(effect.contact);
      return;
    case 'remnant': {
      const { alloy, filmUm } = effect;
      siteOf(world, effect.unit, effect.refdes).remnant = { alloy, filmUm };
      return;
    }
    case 'lead-estimated':
      siteOf(world, effect.unit, effect.refdes).lead.estimate = effect.estimate;
      return;
    case 'lead-measured':
      siteOf(world, effect.unit, effect.refdes).lead.measuredPct = effect.leadPct;
      return;
    case 'passes':
      siteOf(world, effect.unit, effect.refdes).passes += effect.passes;
      return;
    case 'inspected':
      siteOf(world, effect.unit, effect.refdes).inspected[effect.technique] = effect.result;
      return;
    case 'moisture':
      learnMoisture(streamOf(world, effect.stream), effect.fact);
      return;
    case 'bath': {
      const { station, solderAlloy, leadPct, copperPct, sampledAt } = effect;
      world.stations.set(station, { station, bath: { solderAlloy, leadPct, copperPct, sampledAt }, last: null });
      return;
    }
    case 'warned':
      warn(streamOf(world, effect.stream).warnings, effect);
      return;
    case 'hold-called':
      world.causes.push(effect.cause);
      return;
    case 'clearance-used': {
      const step = world.clearances.get(effect.clearance)?.steps[effect.step];
      if (step !== undefined) step.use = effect.event;
      return;
    }
    case 'shipment':
      return;
  }
}

function openedSites(openings: readonly SiteOpening[]): Record<string, SiteState> {
  const sites: Record<string, SiteState> = {};
  for (const { refdes, device, alloys, prior } of openings) {
    sites[refdes] = {
      device,
      condition: 'fitted',
      alloys,
      // The build says nothing of earlier reworks: until the owner does, they are unknown, not none.
      reworks: emptyTally(UNKNOWN_PRIOR),
      dressings: emptyTally(UNKNOWN_PRIOR),
      contacts: [],
      remnant: { alloy: alloys[0] ?? '', filmUm: null },
      lead: { estimate: null, measuredPct: null },
      passes: 0,
      excursions: emptyTally(prior),
      placed: false,
      inspected: {},
    };
  }
  return sites;
}

function openedUnit({ assembly, serial, reflows, sites }: Extract<Effect, { kind: 'unit-opened' }>): UnitState {
  return { ...unknownUnit(assembly, serial), reflows: emptyTally(reflows), sites: openedSites(sites) };
}

/** A unit of which nothing is known but its name: every event of it was struck. */
export function unknownUnit(assembly: string, serial: string): UnitState {
  return {
    assembly,
    serial,
    status: 'expected',
    workOrder: null,
    complaint: null,
    received: false,
    reflows: emptyTally(UNKNOWN_PRIOR),
    sites: {},
    moisture: EMPTY_MOISTURE,
    warnings: [],
    devicesSeen: [],
    last: null,
  };
}

function openDevice(world: World, effect: Extract<Effect, { kind: 'device-opened' }>): void {
  const { device, part, place, prior } = effect;
  world.devices.set(device, {
    device,
    part,
    status: place === null ? 'loose' : 'mounted',
    knownAs: null,
    place,
    mountedAt: null,
    excursions: emptyTally(prior),
    balls: { state: 'as-made' },
    lot: null,
    dateCode: null,
    owner: null,
    moisture: EMPTY_MOISTURE,
    warnings: [],
    unitsSeen: place === null ? [] : [unitKey(place.assembly, place.serial)],
    last: null,
  });
}

function renameDevice(world: World, formerly: string, name: string): void {
  const former = deviceOf(world, formerly);
  world.devices.set(name, {
    ...former,
    device: name,
    warnings: former.warnings.map((warning) => ({ ...warning })),
    unitsSeen: [...former.unitsSeen],
  });
  if (former.place !== null) {
    siteOf(world, unitKey(former.place.assembly, former.place.serial), former.place.refdes).device = name;
  }
  for (const { steps } of world.clearances.values()) {
    for (const step of steps) if (step.device === formerly) step.device = name;
  }
  former.status = 'renamed';
  former.knownAs = name;
  former.place = null;
}

function mount(world: World, effect: Extract<Effect, { kind: 'mounted' }>): void {
  const { assembly, serial, refdes } = effect.place;
  const unit = unitKey(assembly, serial);
  const site = siteOf(world, unit, refdes);
  site.device = effect.device;
  site.condition = 'fitted';
  site.alloys = effect.alloys;
  if (effect.how === 'placed') {
    site.placed = true;
    site.lead = { estimate: null, measuredPct: null };
    site.inspected = {};
  }
  const device = deviceOf(world, effect.device);
  device.status = 'mounted';
  device.place = effect.place;
  device.mountedAt = effect.how === 'placed' ? effect.at : null;
  if (!device.unitsSeen.includes(unit)) device.unitsSeen.push(unit);
}

function unmount(world: World, effect: Extract<Effect, { kind: 'unmounted' }>): void {
  const site = siteOf(world, effect.unit, effect.refdes);
  site.device = null;
  // What the joint was of stays on the pads, undressed, and nobody has measured it.
  site.remnant = { alloy: site.alloys.find(isLeaded) ?? site.alloys[0] ?? '', filmUm: null };
  site.condition = 'bare';
  site.inspected = {};
  if (effect.to === null) return;
  const device = deviceOf(world, effect.device);
  // What it has lain in goes with it, and from here on it lies on its own.
  device.moisture = moistureOf(device, unitOf(world, effect.unit));
  device.status = effect.to;
  device.place = null;
  device.mountedAt = null;
}

function learnMoisture(subject: UnitState | DeviceState, fact: MoistureFact): void {
  subject.moisture = advance(subject.moisture, fact);
}

function changeTally(
  world: World,
  effect: Extract<Effect, { kind: 'prior' | 'counted' | 'possible' }>,
  change: (tally: Tally) => Tally,
): void {
  const { subject, limit } = effect;
  if (subject.kind === 'device') {
    const device = deviceOf(world, subject.device);
    device.excursions = change(device.excursions);
    return;
  }
  const unit = unitOf(world, unitKey(subject.assembly, subject.serial));
  if (subject.kind === 'unit') {
    unit.reflows = change(unit.reflows);
    return;
  }
  const site = siteOf(world, unitKey(subject.assembly, subject.serial), subject.refdes);
  if (limit === 'site-reworks') site.reworks = change(site.reworks);
  else if (limit === 'site-dressings') site.dressings = change(site.dressings);
  else site.excursions = change(site.excursions);
}

function warn(warnings: Warning[], effect: Extract<Effect, { kind: 'warned' }>): void {
  const { code, subject, detail, remedy, at } = effect;
  const same = warnings.find((warning) => warning.code === code && sameSubject(warning.subject, subject));
  if (same === undefined) {
    warnings.push({ code, subject, detail, remedy, count: 1, firstAt: at, lastAt: at });
    return;
  }
  same.detail = detail;
  same.remedy = remedy;
  same.count += 1;
  same.lastAt = at;
}

function sameSubject(a: Warning['subject'], b: Warning['subject']): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function streamOf(world: World, stream: string): UnitState | DeviceState {
  return stream.startsWith('devices/') ? deviceOf(world, stream.slice('devices/'.length)) : unitOf(world, stream);
}

export function unitOf(world: World, key: string): UnitState {
  const unit = world.units.get(key);
  if (unit === undefined) throw new Error(`unit ${key} is not in this fold`);
  return unit;
}

/** The site of that name, never something that every object inherits. */
export function siteIn(unit: UnitState, refdes: string): SiteState | undefined {
  return Object.hasOwn(unit.sites, refdes) ? unit.sites[refdes] : undefined;
}

export function siteOf(world: World, unit: string, refdes: string): SiteState {
  const site = siteIn(unitOf(world, unit), refdes);
  if (site === undefined) throw new Error(`site ${refdes} of unit ${unit} is not in this fold`);
  return site;
}

export function deviceOf(world: World, device: string): DeviceState {
  const state = world.devices.get(device);
  if (state === undefined) throw new Error(`device ${device} is not in this fold`);
  return state;
}
