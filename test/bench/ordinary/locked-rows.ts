import { EntityManager, In } from 'typeorm';
import { Device } from './entities/device.js';
import { Site } from './entities/site.js';
import { Unit } from './entities/unit.js';
import { EventFacts } from './event-data.dto.js';
import { lockNamed } from './lock-named.js';

/** What one event may change. */
export interface LockedRows {
  /** The unit or the loose device that the event is about, in whose ledger it is written. */
  readonly chain: Unit | Device;
  /** By refdes. */
  readonly sites: ReadonlyMap<string, Site>;
  /** By name; a loose device that the event is about is not among them. */
  readonly devices: ReadonlyMap<string, Device>;
}

const LOOSE = 'devices/';

/** Locks what an event is about, always a unit before devices and these by name, and makes what is not there yet. */
export async function lockRows(manager: EntityManager, subject: string, facts: EventFacts): Promise<LockedRows> {
  if (subject.startsWith(LOOSE)) {
    const [chain] = await lockNamed(manager.getRepository(Device), [subject.slice(LOOSE.length)]);
    return { chain: existing(chain, subject), sites: new Map(), devices: new Map() };
  }
  const [unit] = await lockNamed(manager.getRepository(Unit), [subject]);
  const sites = await sitesOf(manager, subject, sitesNamed(facts));
  const devices = await lockNamed(manager.getRepository(Device), devicesNamed(facts, sites));
  return { chain: existing(unit, subject), sites, devices: new Map(devices.map((device) => [device.name, device])) };
}

/** @throws Error where what was asked for by name is not among what was locked */
export function existing<Row>(row: Row | undefined, name: string): Row {
  if (row === undefined) throw new Error(`${name} is not locked`);
  return row;
}

/** The name of the device that came on a site without one. */
export function nativeDevice(site: Site): string {
  return `${site.unit.replace('/', ':')}:${site.refdes}`;
}

async function sitesOf(manager: EntityManager, unit: string, refdes: readonly string[]): Promise<Map<string, Site>> {
  const sites = new Map<string, Site>();
  if (refdes.length === 0) return sites;
  for (const site of await manager.findBy(Site, { unit, refdes: In(refdes) })) sites.set(site.refdes, site);
  for (const name of refdes) {
    if (!sites.has(name)) sites.set(name, newSite(manager, unit, name));
  }
  return sites;
}

function newSite(manager: EntityManager, unit: string, refdes: string): Site {
  const counts = { heats: 0, priorReworks: 0, reworks: 0, dressingPasses: 0, contactSeconds: 0 };
  const unknown = { device: null, deviceChangedAt: null, inspection: null, lastEventAt: null };
  return manager.create(Site, { unit, refdes, ...counts, ...unknown });
}

function sitesNamed({ type, data }: EventFacts): string[] {
  switch (type) {
    case 'heatbook.unit.received.v1':
      return [...new Set([...(data.devices ?? []), ...(data.sites ?? [])].map(({ refdes }) => refdes))];
    case 'heatbook.device.removed.v1':
    case 'heatbook.device.placed.v1':
    case 'heatbook.site.dressed.v1':
    case 'heatbook.site.cleaned.v1':
      return [data.refdes];
    case 'heatbook.inspection.recorded.v1':
      return data.target.refdes === undefined ? [] : [data.target.refdes];
    default:
      return [];
  }
}

function devicesNamed({ type, data }: EventFacts, sites: ReadonlyMap<string, Site>): string[] {
  const onSite = (refdes: string): string => nativeDevice(existing(sites.get(refdes), refdes));
  switch (type) {
    case 'heatbook.unit.received.v1':
      return (data.devices ?? []).map(({ refdes, device }) => device ?? onSite(refdes));
    case 'heatbook.device.removed.v1':
      return [data.device ?? sites.get(data.refdes)?.device ?? onSite(data.refdes)];
    case 'heatbook.device.placed.v1':
      return [data.device];
    default:
      return [];
  }
}
