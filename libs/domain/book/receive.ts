import { EventOf, UnitReceived } from '../events/station-event.js';
import { deviceKey } from '../subject/subject.js';
import { checkBudget } from './budgets.js';
import { deviceSubject, Judgement, SiteContext, siteContext, UnitContext } from './judgement.js';
import { deviceOn, ensureDevice, warnUnknownHistory } from './open-subjects.js';
import { DeviceState } from './state.js';
import { Prior } from './tally.js';

/** A unit comes in: who it is, what it carries, and what its owner says it has been through. */
export function unitReceived(j: Judgement<EventOf<'heatbook.unit.received.v1'>>, unit: UnitContext): void {
  const { data } = j.event;
  const first = !unit.state.received;
  if (!first && unit.state.status === 'in-house') {
    j.hold(
      'sequence-broken',
      unit.subject,
      { summary: 'The unit was received while it was in the house already.' },
      'Find out whether the earlier shipment was not posted or two boards bear one serial number.',
    );
  }
  if (unit.state.status === 'scrapped') {
    j.hold(
      'sequence-broken',
      unit.subject,
      { summary: 'The unit was received after it had been scrapped.' },
      'Find out whether it was scrapped by mistake or two boards bear one serial number.',
    );
  }
  j.emit({
    kind: 'unit-received',
    unit: unit.key,
    workOrder: data.workOrder ?? null,
    complaint: data.complaint ?? null,
  });
  j.emit({ kind: 'unit-status', unit: unit.key, status: 'in-house' });
  for (const { refdes, device } of data.devices ?? []) {
    if (device !== undefined) declareDevice(j, siteContext(j, unit, refdes), device);
  }
  if (first) declarePast(j, unit, data);
  else if (declaresPast(data)) {
    j.warn(
      'prior-ignored',
      unit.subject,
      'The unit has been here before, so the counts that the book keeps stand and the declared ones were not taken.',
      'Post what happened to it elsewhere as events of its own.',
    );
  }
}

function declaresPast(data: UnitReceived): boolean {
  const devices = data.devices?.some((device) => device.priorExcursions !== undefined);
  const sites = data.sites?.some((site) => site.priorReworks !== undefined);
  return data.priorReflows !== undefined || devices === true || sites === true;
}

/** Declared figures replace what the assembly's build would let one assume. */
function declarePast(j: Judgement, unit: UnitContext, data: UnitReceived): void {
  const { assembly, serial } = unit.state;
  if (data.priorReflows !== undefined) {
    const prior: Prior = { count: data.priorReflows, basis: 'declared' };
    j.emit({ kind: 'prior', subject: unit.subject, limit: 'unit-reflows', prior });
    checkBudget(j, unit.subject, 'unit-reflows');
    for (const refdes of Object.keys(unit.state.sites)) {
      const at = siteContext(j, unit, refdes);
      const name = at.site.device;
      const device = name === null ? undefined : j.deviceIfKnown(name);
      j.emit({ kind: 'prior', subject: at.siteSubject, limit: 'site-excursions', prior });
      checkBudget(j, at.siteSubject, 'site-excursions');
      if (device?.excursions.prior.basis === 'assumed') declareExcursions(j, device, prior);
    }
  }
  for (const { refdes, priorExcursions } of data.devices ?? []) {
    const device = priorExcursions === undefined ? undefined : deviceOn(j, siteContext(j, unit, refdes));
    if (device !== undefined && priorExcursions !== undefined) {
      declareExcursions(j, device, { count: priorExcursions, basis: 'declared' });
    }
  }
  for (const { refdes, priorReworks } of data.sites ?? []) {
    if (priorReworks === undefined) continue;
    const subject = { kind: 'site', assembly, serial, refdes } as const;
    j.emit({ kind: 'prior', subject, limit: 'site-reworks', prior: { count: priorReworks, basis: 'declared' } });
    // A site that was never reworked was never dressed; how often others were dressed, the declaration does not say.
    if (priorReworks === 0) {
      j.emit({ kind: 'prior', subject, limit: 'site-dressings', prior: { count: 0, basis: 'declared' } });
    }
    checkBudget(j, subject, 'site-reworks');
  }
}

function declareExcursions(j: Judgement, device: DeviceState, prior: Prior): void {
  const subject = deviceSubject(device.device);
  j.emit({ kind: 'prior', subject, limit: 'device-excursions', prior });
  checkBudget(j, subject, 'device-excursions');
}

/** The name on the label of a device that came with the unit. */
function declareDevice(j: Judgement, at: SiteContext, name: string): void {
  const { assembly, serial } = at.state;
  const carried = deviceOn(j, at);
  if (carried?.device === name) return;
  if (carried !== undefined && j.deviceIfKnown(name) === undefined && isAnonymous(carried)) {
    j.emit({ kind: 'device-named', device: name, formerly: carried.device });
    return;
  }
  j.hold(
    'identity-conflict',
    deviceSubject(name),
    {
      summary: `Device ${name} is declared to have come on ${at.refdes} of ${at.key}, but the book has it ${whereabouts(j, name)}.`,
      details: carried === undefined ? [] : [`the book has device ${carried.device} on ${at.refdes}`],
    },
    'Read the labels again, have the event with the wrong one annulled, and post it again with the right one.',
  );
  ensureDevice(j, name, at.siteDesign?.part ?? null);
  if (carried !== undefined) {
    j.emit({
      kind: 'unmounted',
      unit: at.key,
      refdes: at.refdes,
      device: carried.device,
      to: 'loose',
      at: j.event.order.at,
    });
  }
  const place = { assembly, serial, refdes: at.refdes };
  j.emit({ kind: 'mounted', device: name, place, alloys: at.site.alloys, how: 'declared', at: j.event.order.at });
}

/** Named after its place, since nobody had read its label. */
export function isAnonymous(device: DeviceState): boolean {
  const { place } = device;
  return place !== null && device.device === `${place.assembly}:${place.serial}:${place.refdes}`;
}

/** Where the book has a device, in words. A unit's ledger goes to its customer, so it names nobody else's units. */
export function whereabouts(j: Judgement, name: string): string {
  const device = j.deviceIfKnown(name);
  if (device === undefined) return 'nowhere';
  if (device.place === null) return device.status;
  const { assembly, serial, refdes } = device.place;
  return isOfTheSameCustomer(j, assembly)
    ? `on ${refdes} of ${assembly}/${serial}`
    : `on a unit of another customer, which the record of the device names`;
}

function isOfTheSameCustomer(j: Judgement, assembly: string): boolean {
  const unit = j.world.units.get(j.event.subject);
  if (unit === undefined || unit.assembly === assembly) return true;
  const customerOf = (name: string): string | undefined => j.rules.find('assembly', name)?.body.customer;
  return customerOf(unit.assembly) === customerOf(assembly);
}

/** A device comes in on its own. */
export function deviceReceived(j: Judgement<EventOf<'heatbook.device.received.v1'>>, name: string): void {
  const { data } = j.event;
  const known = j.deviceIfKnown(name);
  if (known !== undefined && known.status !== 'loose') {
    j.hold(
      'identity-conflict',
      deviceSubject(name),
      { summary: `Device ${name} was received loose, but the book has it ${whereabouts(j, name)}.` },
      'Read the label again; two devices may bear one name.',
    );
  }
  const device = ensureDevice(j, name, data.part);
  const { lot = null, dateCode = null, owner = null } = data;
  j.emit({ kind: 'device-described', device: name, part: data.part, lot, dateCode, owner });
  if (j.rules.find('part', data.part) === undefined) {
    j.warn('part-unknown', deviceSubject(name), `Part ${data.part} is not in the setup.`, `Enter part ${data.part}.`);
  }
  if (data.packSealedAt !== undefined) {
    j.emit({ kind: 'moisture', stream: deviceKey(name), fact: { kind: 'dry-pack-sealed', at: data.packSealedAt } });
  }
  const { prior } = device.excursions;
  if (data.priorExcursions !== undefined && prior.basis === 'declared') {
    if (data.priorExcursions === prior.count) return;
    j.warn(
      'prior-ignored',
      deviceSubject(name),
      'What the device had been through before was declared already, so the count that the book keeps stands.',
      'Post what happened to it elsewhere as events of its own.',
    );
  } else if (data.priorExcursions !== undefined) {
    declareExcursions(j, device, { count: data.priorExcursions, basis: 'declared' });
  } else if (prior.basis === 'unknown') {
    warnUnknownHistory(j, name);
  }
}
