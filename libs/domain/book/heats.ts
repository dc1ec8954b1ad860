import { EventOf, HeatedPurpose, SiteDressed } from '../events/station-event.js';
import { readingsAt } from '../heat/excursion-verdict.js';
import { checkBudget } from './budgets.js';
import { checkBoardFloorLife } from './dry-rules.js';
import { exposeBoard, exposeSite } from './exposure.js';
import { Inference, none, one } from './inference.js';
import { deviceSubject, Judgement, SiteContext, UnitContext } from './judgement.js';
import { deviceOn, ensureDevice, warnUnknownHistory } from './open-subjects.js';
import { dressingContact, wearPads } from './pad-wear.js';
import { isAnonymous, whereabouts } from './receive.js';
import { breakRule, checkProfileKnown, checkWindow, ruleFor } from './station-rules.js';

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
      'Post the placement that is missing, or have the wrong event annulled and post it again with the right reference designator or time.',
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
    'Read both labels again, have the event with the wrong one annulled, and post it again with the right one.',
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
      'Post the removal that is missing, or have the wrong event annulled and post it again with the right reference designator or time.',
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
