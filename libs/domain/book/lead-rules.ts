import { DevicePlaced } from '../events/station-event.js';
import { isLeaded } from '../heat/alloys.js';
import { judgeLead } from '../lead/judge-lead.js';
import { LeadEstimate, leadInJoint } from '../lead/lead-in-joint.js';
import { Breach, breachOf } from '../limits/breach.js';
import { ResolvedLimit } from '../limits/resolve-limit.js';
import { Judgement, SiteContext, tellBreach } from './judgement.js';
import { ruleFor } from './station-rules.js';

/** Film left by wicking where nobody measured it, um: within the 10 to 50 um of memory. */
const ASSUMED_FILM_UM = 25;

/**
 * Estimates the lead in joints that were just made on an assembly that must be free of it, and warns above the limit:
 * an estimate is no measurement, so it stops nothing. A leaded remnant that lead-free solder has washed since is not
 * estimated, because nobody says how much solder that was; only a measurement tells.
 * @param balls alloy of the device's balls.
 */
export function checkLeadEstimate(j: Judgement, at: SiteContext, balls: string, data: DevicePlaced): void {
  const { siteDesign, site } = at;
  const { remnant } = site;
  const leaded = [balls, data.pasteAlloy ?? '', remnant.alloy].some(isLeaded);
  if (!at.design.leadFree || siteDesign === undefined || !leaded) return;
  const limit = ruleFor(j, 'joint-lead-max', at.siteSubject);
  if (limit === undefined || typeof limit.allowed !== 'number') return;
  const { ballDiameterMm, padDiameterMm } = siteDesign;
  const { pasteAlloy, pasteVolumeMm3 } = data;
  // The volume is that of the whole site; a joint has its pad's share of it.
  const paste =
    pasteAlloy === undefined || pasteVolumeMm3 === undefined
      ? {}
      : { paste: { alloy: pasteAlloy, volumeMm3: pasteVolumeMm3 / siteDesign.pads } };
  const estimate = leadInJoint({
    ball: { diameterMm: ballDiameterMm, alloy: balls },
    padDiameterMm,
    remnant: {
      filmUm: remnant.filmUm ?? ASSUMED_FILM_UM,
      alloy: remnant.alloy,
      heightBasis: remnant.filmUm === null ? 'assumed' : 'measured',
    },
    ...paste,
  });
  if (estimate.kind === 'estimate') j.emit({ kind: 'lead-estimated', unit: at.key, refdes: at.refdes, estimate });
  const breach = estimate.kind === 'estimate' ? estimateBreach(at.refdes, estimate, limit) : undefined;
  if (breach !== undefined) tellBreach(j, at.siteSubject, breach);
}

/** What shows that joints hold more lead than a limit allows, by estimate: it warns, whatever the limit's action is. */
export function estimateBreach(refdes: string, estimate: LeadEstimate, limit: ResolvedLimit): Breach | undefined {
  if (typeof limit.allowed !== 'number') return undefined;
  const verdict = judgeLead({ estimate, limitPct: limit.allowed });
  if (verdict.passes !== false || verdict.leadPct === null) return undefined;
  const summary = `The joints of ${refdes} hold about ${verdict.leadPct.toPrecision(2)} wt% lead by estimate (${verdict.basis}) where ${String(limit.allowed)} wt% is allowed.`;
  const remedy = verdict.remedy ?? 'Measure the joint (XRF), or flush the site with lead-free solder.';
  return breachOf(limit, { summary, remedy }, 'warn');
}

/** What shows that more lead was measured than a limit allows. */
export function measuredLeadBreach(leadPct: number, limit: ResolvedLimit): Breach | undefined {
  if (typeof limit.allowed !== 'number' || leadPct <= limit.allowed) return undefined;
  return breachOf(limit, {
    summary: `${String(leadPct)} wt% lead measured where ${String(limit.allowed)} wt% is allowed.`,
    remedy: 'Flush the site with lead-free solder, wick it, and measure again.',
  });
}

/**
 * Keeps what was measured of the lead at a site. The measurement counts; where an estimate of the same joints says
 * otherwise, that is worth a word, since one of the two rests on something that is not so.
 */
export function keepMeasuredLead(j: Judgement, at: SiteContext, leadPct: number): void {
  j.emit({ kind: 'lead-measured', unit: at.key, refdes: at.refdes, leadPct });
  const { estimate } = at.site.lead;
  const limit = ruleFor(j, 'joint-lead-max', at.siteSubject);
  if (estimate === null || limit === undefined || typeof limit.allowed !== 'number') return;
  const { disagreement } = judgeLead({ estimate, measuredPct: leadPct, limitPct: limit.allowed });
  if (disagreement === undefined) return;
  j.warn(
    'lead-disagreement',
    at.siteSubject,
    disagreement.detail,
    'Measure again, or look at what was posted of the remnant and the paste.',
  );
}
