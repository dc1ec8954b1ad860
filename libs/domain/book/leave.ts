import { EventOf } from '../events/station-event.js';
import { subjectKey } from '../subject/subject.js';
import { causeKey } from '../holds/cause.js';
import { deviceSubject, Judgement, UnitContext } from './judgement.js';
import { SiteCondition } from './state.js';
import { ensureDevice } from './open-subjects.js';
import { whereabouts } from './receive.js';

/** The unit leaves. What is still open then is a hold, since the customer has the board. */
export function unitShipped(j: Judgement<EventOf<'heatbook.unit.shipped.v1'>>, unit: UnitContext): void {
  const open = [...openSites(unit), ...openHolds(j, unit)];
  const complete = unit.state.received && Object.values(unit.state.sites).some(({ placed }) => placed);
  j.emit({ kind: 'shipment', unit: unit.key, open, complete });
  j.emit({ kind: 'unit-status', unit: unit.key, status: 'shipped' });
  if (open.length === 0) return;
  j.hold(
    'shipped-open',
    unit.subject,
    { summary: `Open points when it was shipped: ${String(open.length)}.`, details: open },
    'Call the unit back, or have quality close each point and tell the customer.',
  );
}

/** What a site may still need when its board leaves. */
const WAITING: readonly SiteCondition[] = ['to-dress', 'to-clean', 'to-rework'];

function openSites(unit: UnitContext): string[] {
  return Object.entries(unit.state.sites).flatMap(([refdes, site]) => {
    if (site.device === null) return [`${refdes} carries no device`];
    const results = Object.entries(site.inspected);
    if (site.placed && results.length === 0) return [`${refdes} was not inspected after its last placement`];
    const failed = results.filter(([, result]) => result === 'fail').map(([technique]) => technique);
    if (failed.length > 0) return [`${refdes} failed its last inspection (${failed.join(', ')})`];
    return WAITING.includes(site.condition) ? [`${refdes} is ${site.condition}`] : [];
  });
}

/** Holds that stood when the unit left: on the unit, its sites, or a device that was on it. */
function openHolds(j: Judgement, unit: UnitContext): string[] {
  const now = j.event.order.at;
  const aboard = new Set([unit.key]);
  for (const [refdes, { device }] of Object.entries(unit.state.sites)) {
    aboard.add(`${unit.key}#${refdes}`);
    if (device === null) continue;
    j.deviceIfKnown(device);
    aboard.add(subjectKey(deviceSubject(device)));
  }
  const found = new Set<string>();
  for (const cause of j.world.causes) {
    const released = j.world.releases.get(causeKey(cause));
    if (cause.event.at > now || (released !== undefined && released <= now)) continue;
    const key = subjectKey(cause.subject);
    if (aboard.has(key)) found.add(`hold ${cause.reason} on ${key}`);
  }
  for (const hold of j.world.standing) {
    if (hold.raisedAt > now || (hold.releasedAt !== null && hold.releasedAt <= now)) continue;
    const key = subjectKey(hold.subject);
    if (aboard.has(key)) found.add(`hold ${hold.reason} on ${key}`);
  }
  return [...found].sort();
}

export function unitScrapped(j: Judgement<EventOf<'heatbook.unit.scrapped.v1'>>, unit: UnitContext): void {
  j.emit({ kind: 'unit-status', unit: unit.key, status: 'scrapped' });
}

export function deviceScrapped(j: Judgement<EventOf<'heatbook.device.scrapped.v1'>>, name: string): void {
  const device = ensureDevice(j, name, null);
  if (device.status === 'mounted') {
    j.hold(
      'sequence-broken',
      deviceSubject(name),
      { summary: `Device ${name} was scrapped while the book has it ${whereabouts(j, name)}.` },
      'Post the removal that is missing, or have the wrong event annulled and post it again with the right device or time.',
    );
  }
  j.emit({ kind: 'device-status', device: name, status: 'scrapped' });
}
