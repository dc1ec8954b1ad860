import { DeviceDeballed, EventOf, HeatedPurpose, SiteDressed } from '../events/station-event.js';
import { Heat } from '../events/heat.js';
import { DEVICE_POSITIONS, governingAlloy, measuredVerdict, readingsAt } from '../heat/excursion-verdict.js';
import { checkTrace } from './check-trace.js';
import { checkBodyPeak } from './body-rules.js';
import { checkBudget } from './budgets.js';
import { checkBoardFloorLife, checkFloorLife } from './dry-rules.js';
import { countHeat, countingLine, exposeBoard, exposeSite, Inference } from './exposure.js';
import { deviceSubject, Judgement, SiteContext, UnitContext } from './judgement.js';
import { deviceOn, ensureDevice, warnUnknownHistory } from './open-subjects.js';
import { checkLeadEstimate } from './lead-rules.js';
import { dressingContact, placementContact, wearPads } from './pad-wear.js';
import { isAnonymous, whereabouts } from './receive.js';
import { breakRule, checkProfileKnown, checkWindow, ruleFor } from './station-rules.js';
import { DeviceState } from './state.js';

function one(why: string): Inference {
  return { spends: 'one', basis: 'inferred', why };
}

function none(why: string): Inference {
  return { spends: 'none', basis: 'inferred', why };
}

/** The whole board goes through the oven: everything on it sees the pass. */
export function unitReflowed(j: Judgement<EventOf<'heatbook.unit.reflowed.v1'>>, unit: UnitContext): void {
  const { profile, heat } = j.event.data;
  checkProfileKnown(j, profile);
  exposeBoard(j, unit, heat);
  checkBoardFloorLife(j, unit);
  checkWindow(j, unit.subject, profile, heat.thermocouples);
}

/** A device comes off. The rework of the site is counted here, at its beginning. */
export function deviceRemoved(j: Judgement<EventOf<'heatbook.device.removed.v1'>>, at: SiteContext): void {
  const { data } = j.event;
  const { profile, heat, fate } = data;
  checkProfileKnown(j, profile);
  const carried = at.site.device;
  if (carried === null) {
    j.hold(
      'sequence-broken',
      at.siteSubject,
      { summary: `A device was removed from ${at.refdes}, which carried none.` },
      'Find the placement that was not posted, or correct the reference designator.',
    );
  }
  if (data.device !== undefined) nameRemoved(j, at, data.device);
  exposeSite(j, at, heat, profile, {
    site: one('removal'),
    device: one('removal'),
    spreads: true,
    exemptDevice: fate === 'scrap',
  });
  const removed = deviceOn(j, at);
  j.emit({
    kind: 'counted',
    subject: at.siteSubject,
    limit: 'site-reworks',
    count: {
      event: { source: j.event.order.source, id: j.event.order.id },
      at: j.event.order.at,
      basis: 'declared',
      why: 'removal',
    },
  });
  checkBudget(j, at.siteSubject, 'site-reworks');
  if (at.site.reworks.prior.basis === 'unknown') {
    j.warn(
      'history-unknown',
      at.siteSubject,
      `Nobody has said how often ${at.refdes} was reworked before, so only the reworks in this book are counted.`,
      `Ask the owner, and post the receipt of the next boards with sites[].priorReworks.`,
    );
  }
  const leaving = at.site.device;
  if (leaving !== null) {
    const to = removed === undefined ? null : fate === 'scrap' ? 'scrapped' : 'loose';
    j.emit({ kind: 'unmounted', unit: at.key, refdes: at.refdes, device: leaving, to, at: j.event.order.at });
  }
  checkWindow(j, at.siteSubject, profile, readingsAt(heat, at.refdes, at.refdes));
}

/** The station read a label on what it took off: a name for what had none, or another than the book expected. */
function nameRemoved(j: Judgement, at: SiteContext, name: string): void {
  const carried = deviceOn(j, at);
  if (carried?.device === name) return;
  if (carried !== undefined && isAnonymous(carried) && j.deviceIfKnown(name) === undefined) {
    j.emit({ kind: 'device-named', device: name, formerly: carried.device });
    return;
  }
  const known = j.deviceIfKnown(name);
  if (known === undefined) {
    ensureDevice(j, name, at.siteDesign?.part ?? null);
    warnUnknownHistory(j, name);
    if (at.site.device === null) return;
  }
  j.hold(
    'identity-conflict',
    deviceSubject(name),
    {
      summary: `Device ${name} was removed from ${at.refdes} of ${at.key}, but the book has it ${whereabouts(j, name)}.`,
      details: [`the book has device ${String(at.site.device)} on ${at.refdes}`],
    },
    'Read both labels again and correct the record that is wrong.',
  );
}

const DRESSING: Record<SiteDressed['method'], { site: Inference; spreads: boolean }> = {
  braid: { site: one('braid dressing, local'), spreads: false },
  vacuum: { site: one('vacuum dressing, local'), spreads: false },
  fountain: { site: one('fountain dressing'), spreads: true },
  coupon: { site: one('coupon dressing'), spreads: true },
};

/** The remnant solder is levelled. A dressing is one, however many passes it takes. */
export function siteDressed(j: Judgement<EventOf<'heatbook.site.dressed.v1'>>, at: SiteContext): void {
  const { data } = j.event;
  checkProfileKnown(j, data.profile);
  checkMethod(j, at, data.method);
  if (at.site.device !== null) {
    j.hold(
      'sequence-broken',
      at.siteSubject,
      { summary: `${at.refdes} was dressed while it carried device ${at.site.device}.` },
      'Find the removal that was not posted, or correct the reference designator.',
    );
  }
  exposeSite(j, at, data.heat, data.profile, { ...DRESSING[data.method], device: none('the site is empty') });
  j.emit({
    kind: 'counted',
    subject: at.siteSubject,
    limit: 'site-dressings',
    count: {
      event: { source: j.event.order.source, id: j.event.order.id },
      at: j.event.order.at,
      basis: 'declared',
      why: `${data.method} dressing, passes: ${String(data.passes)}`,
    },
  });
  checkBudget(j, at.siteSubject, 'site-dressings');
  j.emit({ kind: 'passes', unit: at.key, refdes: at.refdes, passes: data.passes });
  wearPads(j, at, dressingContact(data));
  if (data.heat !== undefined)
    checkWindow(j, at.siteSubject, data.profile, readingsAt(data.heat, at.refdes, at.refdes));
  // A joint that is said to be there is not levelled; the contradiction is held, and what is known of the joint stands.
  if (at.site.device !== null) return;
  j.emit({ kind: 'site-alloys', unit: at.key, refdes: at.refdes, alloys: [data.solderAlloy] });
  const { solderAlloy: alloy, remnantHeightUm: filmUm = null } = data;
  j.emit({ kind: 'remnant', unit: at.key, refdes: at.refdes, alloy, filmUm });
  if (at.site.condition !== 'damaged') j.emit({ kind: 'site', unit: at.key, refdes: at.refdes, condition: 'dressed' });
}

function checkMethod(j: Judgement, at: SiteContext, method: SiteDressed['method']): void {
  const limit = ruleFor(j, 'method-allowed', at.siteSubject);
  if (limit === undefined || typeof limit.allowed === 'number') return;
  if (limit.allowed.some((allowed) => allowed === method)) return;
  breakRule(
    j,
    limit,
    at.siteSubject,
    `${at.refdes} was dressed by ${method}, which limit ${limit.name} does not allow there.`,
    'Inspect the pads and mask, then have quality decide.',
  );
}

/** A heat that is no removal, dressing or placement. What was meant to melt is taken to have melted. */
export function siteHeated(j: Judgement<EventOf<'heatbook.site.heated.v1'>>, at: SiteContext): void {
  const { purpose, heat, profile } = j.event.data;
  checkProfileKnown(j, profile);
  const inference = heatedInference(purpose);
  exposeSite(j, at, heat, profile, { site: inference, device: inference, spreads: true });
  checkWindow(j, at.siteSubject, profile, readingsAt(heat, at.refdes, at.refdes));
}

function heatedInference(purpose: HeatedPurpose): Inference {
  if (purpose === 'touch-up' || purpose === 'removal-attempt') return one(purpose);
  return { spends: 'possible', basis: 'unknown', why: `heat (${purpose}), unmeasured` };
}

const DEBALLING: Record<DeviceDeballed['method'], Inference> = {
  braid: none('braid deballing'),
  vacuum: none('vacuum deballing'),
  fountain: one('fountain deballing'),
  coupon: one('coupon deballing'),
};

export function deviceDeballed(j: Judgement<EventOf<'heatbook.device.deballed.v1'>>, name: string): void {
  const device = looseDevice(j, name, 'deballed');
  countLoose(j, device, j.event.data.heat, DEBALLING[j.event.data.method]);
  j.emit({ kind: 'balls', device: name, balls: { state: 'none' } });
}

export function deviceReballed(j: Judgement<EventOf<'heatbook.device.reballed.v1'>>, name: string): void {
  const { ballAlloy, heat } = j.event.data;
  const device = looseDevice(j, name, 'reballed');
  j.emit({ kind: 'balls', device: name, balls: { state: 'reballed', alloy: ballAlloy } });
  countLoose(j, device, heat, one('reballing'));
}

/** The device on the bench; one that the book has elsewhere is worked on all the same, and the contradiction held. */
function looseDevice(j: Judgement, name: string, step: string): DeviceState {
  const device = ensureDevice(j, name, null);
  if (device.excursions.prior.basis === 'unknown') warnUnknownHistory(j, name);
  if (device.status !== 'loose') {
    j.hold(
      'sequence-broken',
      deviceSubject(name),
      { summary: `Device ${name} was ${step} while the book has it ${whereabouts(j, name)}.` },
      'Find the removal that was not posted, or correct the name of the device.',
    );
  }
  return device;
}

function countLoose(j: Judgement, device: DeviceState, heat: Heat | undefined, inference: Inference): void {
  const subject = deviceSubject(device.device);
  const alloys = ballAlloys(j, device);
  if (heat !== undefined && heat.thermocouples.length > 0 && governingAlloy(alloys) === undefined) {
    j.warn(
      'alloy-unknown',
      subject,
      `The melting range of the balls of device ${device.device} is not known, so its readings could not be judged.`,
      'Enter its part with a ball alloy that the house knows.',
    );
  }
  const verdict = measuredVerdict(heat?.thermocouples ?? [], DEVICE_POSITIONS, countingLine(j, subject, alloys));
  countHeat(j, { subject, limit: 'device-excursions', verdict, inference });
  if (inference.spends !== 'none') checkFloorLife(j, device);
  checkBodyPeak(j, device, heat?.thermocouples ?? []);
  checkTrace(j, subject, heat, alloys);
}

/** What the balls are of, or were: the maker's alloy unless they were put on anew. */
function ballAlloys(j: Judgement, device: DeviceState): string[] {
  if (device.balls.state === 'reballed') return [device.balls.alloy];
  const part = device.part === null ? undefined : j.rules.find('part', device.part);
  return part === undefined ? [] : [part.body.ballAlloy];
}

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
      'Find the removal that was not posted, or correct the reference designator.',
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
      'Read both labels again and correct the record that is wrong.',
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
