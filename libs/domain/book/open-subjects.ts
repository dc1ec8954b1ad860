import { AssemblyDesign, assumedExcursions, assumedReflows } from '../setup/setup-data.js';
import { anonymousDevice, unitKey } from '../subject/subject.js';
import { SiteOpening } from './effect.js';
import { siteIn } from './evolve.js';
import { deviceSubject, Judgement, SiteContext } from './judgement.js';
import { DeviceState } from './state.js';
import { Prior, UNKNOWN_PRIOR } from './tally.js';

/**
 * Opens a unit in the book if it is new. Its devices are those it was built with, named after their places until their
 * own names are read, and what the assembly's build cost them is assumed. Sites that the assembly gained since are added.
 */
export function ensureUnit(j: Judgement, assembly: string, serial: string, design: AssemblyDesign): void {
  const unit = j.world.units.get(unitKey(assembly, serial));
  const missing = unit ? design.sites.filter(({ refdes }) => siteIn(unit, refdes) === undefined) : design.sites;
  const sites: SiteOpening[] = missing.map((site) => ({
    refdes: site.refdes,
    device: anonymousDevice(assembly, serial, site.refdes),
    alloys: [site.jointAlloy],
    prior: { count: assumedExcursions(design, site.side), basis: 'assumed' },
  }));
  if (unit === undefined) {
    const reflows: Prior = { count: assumedReflows(design), basis: 'assumed' };
    j.emit({ kind: 'unit-opened', assembly, serial, reflows, sites });
  } else if (sites.length > 0) {
    j.emit({ kind: 'sites-opened', unit: unitKey(assembly, serial), sites });
  }
  for (const { refdes, device, prior } of sites) {
    if (j.deviceIfKnown(device) !== undefined) continue;
    const part = design.sites.find((site) => site.refdes === refdes)?.part ?? null;
    j.emit({ kind: 'device-opened', device, part, place: { assembly, serial, refdes }, prior });
  }
}

/** The device that a site carries, or undefined where the site is empty or another record has the device elsewhere. */
export function deviceOn(j: Judgement, at: SiteContext): DeviceState | undefined {
  const name = at.site.device;
  const device = name === null ? undefined : j.deviceIfKnown(name);
  const { assembly, serial } = at.state;
  const place = device?.place;
  const here = place?.assembly === assembly && place.serial === serial && place.refdes === at.refdes;
  return here ? device : undefined;
}

/** Opens a device that was first heard of now; what it has been through is unknown, and said so. */
export function ensureDevice(j: Judgement, name: string, part: string | null): DeviceState {
  const known = j.deviceIfKnown(name);
  if (known !== undefined) return known;
  j.emit({ kind: 'device-opened', device: name, part, place: null, prior: UNKNOWN_PRIOR });
  return j.device(name);
}

/** Says that what a device has been through before is not known. */
export function warnUnknownHistory(j: Judgement, device: string): void {
  j.warn(
    'history-unknown',
    deviceSubject(device),
    `Nobody has said how many excursions device ${device} had been through before.`,
    `Post heatbook.device.received.v1 with priorExcursions and the time at which it came in, or declare it with the unit's receipt.`,
  );
}
