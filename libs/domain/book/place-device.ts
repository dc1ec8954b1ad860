import { EventOf } from '../events/station-event.js';
import { readingsAt } from '../heat/excursion-verdict.js';
import { ballAlloys } from './ball-alloys.js';
import { exposeSite } from './exposure.js';
import { one } from './inference.js';
import { deviceSubject, Judgement, SiteContext } from './judgement.js';
import { checkLeadEstimate } from './lead-rules.js';
import { deviceOn, ensureDevice, warnUnknownHistory } from './open-subjects.js';
import { placementContact, wearPads } from './pad-wear.js';
import { whereabouts } from './receive.js';
import { DeviceState } from './state.js';
import { checkProfileKnown, checkWindow } from './station-rules.js';

/** A device goes on. */
export function devicePlaced(j: Judgement<EventOf<'heatbook.device.placed.v1'>>, at: SiteContext): void {
  const { data } = j.event;
  checkProfileKnown(j, data.profile);
  const device = ensureDevice(j, data.device, data.part ?? at.siteDesign?.part ?? null);
  checkPlacement(j, at, device, data.part);
  const { assembly, serial } = at.state;
  const own = ballAlloys(j, device);
  const balls = own.length > 0 || at.siteDesign === undefined ? own : [at.siteDesign.jointAlloy];
  // What was left on the pads becomes part of the joint, and it may be what melts first.
  const paste = data.pasteAlloy === undefined ? [] : [data.pasteAlloy];
  const alloys = [...new Set([...balls, ...paste, ...at.site.alloys])];
  const place = { assembly, serial, refdes: at.refdes };
  j.emit({ kind: 'mounted', device: data.device, place, alloys, how: 'placed', at: j.event.order.at });
  exposeSite(j, at, data.heat, data.profile, { site: one('placement'), device: one('placement'), spreads: true });
  const [solder = at.siteDesign?.jointAlloy ?? ''] = balls;
  const peaks = readingsAt(data.heat, at.refdes, at.refdes).flatMap(({ position, peakC }) =>
    position === 'joint' ? [peakC] : [],
  );
  wearPads(j, at, placementContact(solder, peaks.length === 0 ? undefined : Math.max(...peaks)));
  checkLeadEstimate(j, at, solder, data);
  checkWindow(j, at.siteSubject, data.profile, readingsAt(data.heat, at.refdes, at.refdes));
}

function checkPlacement(j: Judgement, at: SiteContext, device: DeviceState, part: string | undefined): void {
  const name = device.device;
  if (device.excursions.prior.basis === 'unknown') warnUnknownHistory(j, name);
  if (at.site.device !== null) {
    j.hold(
      'sequence-broken',
      at.siteSubject,
      { summary: `Device ${name} was placed on ${at.refdes}, which carried device ${at.site.device}.` },
      'Post the removal that is missing, or have the wrong event annulled and post it again with the right reference designator or time.',
    );
    const carried = deviceOn(j, at);
    if (carried !== undefined && carried.device !== name) {
      j.emit({
        kind: 'unmounted',
        unit: at.key,
        refdes: at.refdes,
        device: carried.device,
        to: 'loose',
        at: j.event.order.at,
      });
    }
  } else if (at.site.condition === 'bare') {
    j.warn(
      'site-not-dressed',
      at.siteSubject,
      `${at.refdes} was not dressed after the last removal.`,
      'Post the dressing, or inspect the joints for uneven solder.',
    );
  }
  if ((device.status === 'mounted' && at.site.device !== name) || device.status === 'renamed') {
    j.hold(
      'identity-conflict',
      deviceSubject(name),
      {
        summary: `Device ${name} was placed on ${at.refdes} of ${at.key} while the book has it ${whereabouts(j, name)}.`,
      },
      'Read both labels again, have the event with the wrong one annulled, and post it again with the right one.',
    );
  } else if (device.status === 'scrapped') {
    j.hold(
      'sequence-broken',
      deviceSubject(name),
      { summary: `Device ${name} was placed on ${at.refdes} of ${at.key} after it had been scrapped.` },
      'Read the label again; remove the device if it is the scrapped one.',
    );
  }
  const expected = at.siteDesign?.part;
  const actual = device.part ?? part;
  if (expected !== undefined && actual !== undefined && actual !== expected) {
    j.warn(
      'part-differs',
      at.siteSubject,
      `${at.refdes} is for part ${expected}; device ${name} is a ${actual}.`,
      'Check that the other part is an approved alternate.',
    );
  }
}
