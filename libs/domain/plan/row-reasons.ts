import { Skill } from '../setup/setup-data.js';
import { DressingMethod } from '../events/station-event.js';
import { DressingOutcome } from './dressing-outcome.js';
import { DRESSING_METHOD_FACTS } from './dressing-methods.js';
import { MethodPlanQuestion } from './plan-question.js';
import { PlanReason, PlanSubject } from './plan-reason.js';
import { RouteStep } from './route.js';

/** Methods that the house rules out, for the site alone: how balls come off a loose device is no site's limit. */
export function methodReasons(question: MethodPlanQuestion, steps: readonly RouteStep[]): readonly PlanReason[] {
  const { methods, action } = question.methodsAllowed;
  const dressing = steps.find(({ type }) => type === 'heatbook.site.dressed.v1')?.method;
  if (dressing === undefined || methods.includes(dressing)) return [];
  return [
    {
      code: 'method-allowed',
      subject: { kind: 'site', name: question.site.refdes },
      blocks: action === 'hold',
      detail: `${dressing} is not allowed at ${question.site.refdes}.`,
      remedy: 'Take a method that is allowed there, or have a concession signed for the site.',
      asks: { allowed: methods.join(', '), needed: dressing },
    },
  ];
}

/** Copper under the mark, or contacts of which nothing is known. */
export function copperReasons(question: MethodPlanQuestion, outcome: DressingOutcome): readonly PlanReason[] {
  const { leastUm, action } = question.copper;
  const { copperLeftUm, copperCertainty } = outcome;
  const subject: PlanSubject = { kind: 'site', name: question.site.refdes };
  const reasons: PlanReason[] = [];
  if (copperLeftUm !== null && leastUm !== null && copperLeftUm < leastUm) {
    reasons.push({
      code: 'pad-copper-min',
      subject,
      blocks: action === 'hold',
      detail: `About ${copperLeftUm.toFixed(1)} um of pad copper would be left, ${leastUm} um is the least allowed.`,
      remedy: 'Take a gentler method, measure the pads, enter measured rates, or have a concession signed.',
      asks: { allowed: leastUm, needed: Math.floor(copperLeftUm * 10) / 10 },
    });
  }
  if (copperCertainty === 'at-most') {
    reasons.push({
      code: 'copper-unknown',
      subject,
      blocks: false,
      detail: 'Some contacts with solder have no known rate: less copper may be left than is shown.',
      remedy: 'Enter rates for the alloys concerned, or measure the pads.',
    });
  }
  return reasons;
}

/** An estimate warns; only a measurement of the joint stops. */
export function leadReasons(
  question: MethodPlanQuestion,
  method: DressingMethod,
  { leadPct, passes }: DressingOutcome,
): readonly PlanReason[] {
  const { leadFree, limitPct, bathLeadPct } = question.lead;
  if (!leadFree) return [];
  const subject: PlanSubject = { kind: 'site', name: question.site.refdes };
  const remedy = 'Measure the joint (XRF), or flush the site with lead-free solder.';
  if (leadPct === null) {
    const detail = 'Lead in the finished joint cannot be estimated.';
    return [{ code: 'lead-unknown', subject, blocks: false, detail, remedy }];
  }
  if (leadPct > limitPct) {
    const detail = `About ${leadPct.toPrecision(2)} wt% lead estimated in the finished joint, ${limitPct} wt% is allowed.`;
    return [{ code: 'joint-lead-max', subject, blocks: false, detail, remedy }];
  }
  const fromBath = passes > 0 && DRESSING_METHOD_FACTS[method].remnant === 'replaced';
  if (!fromBath || bathLeadPct !== undefined) return [];
  const detail = 'The bath is taken to be free of lead: nobody has analysed it.';
  return [
    { code: 'lead-unknown', subject, blocks: false, detail, remedy: 'Analyse the bath before the site is dressed.' },
  ];
}

/** A skill of the route that nobody holds today. */
export function skillReason(question: MethodPlanQuestion, skill: Skill): PlanReason {
  return {
    code: 'qualified-operator',
    subject: { kind: 'operator', name: skill },
    blocks: question.qualifiedAction === 'hold',
    detail: `Nobody is qualified for ${skill} today.`,
    remedy: `Qualify an operator for ${skill}, or renew a qualification that has lapsed.`,
    asks: { allowed: 'a qualified operator', needed: skill },
  };
}
