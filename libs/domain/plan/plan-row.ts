import { DRESSING_METHODS, DressingMethod } from '../events/station-event.js';
import { Skill } from '../setup/setup-data.js';
import { DressingOutcome, dressingOutcome } from './dressing-outcome.js';
import { DRESSING_METHOD_FACTS, TradeFact } from './dressing-methods.js';
import { NeighbourSpend, neighbourSpend, spreadingOf } from './neighbour-spend.js';
import { MethodPlanQuestion, PlanBudget } from './plan-question.js';
import { budgetReasons, PlanReason, PlanSubject } from './plan-reason.js';
import { RouteStep, routeSteps, spendsOf } from './route.js';
import { copperReasons, leadReasons, methodReasons, skillReason } from './row-reasons.js';

/** What a whole route with one dressing method, and one deballing method where the device is reused, would spend. */
export interface PlanRow {
  readonly method: DressingMethod;
  /** How the balls of a reused device come off. */
  readonly deballing?: DressingMethod;
  readonly fits: boolean;
  readonly excursions: {
    readonly site: number;
    readonly device: number;
    readonly neighbours: readonly NeighbourSpend[];
  };
  readonly copperLeftUm: number | null;
  readonly copperCertainty: DressingOutcome['copperCertainty'];
  readonly leadPct: number | null;
  readonly passes: number;
  readonly minutes: number;
  readonly skill: Skill;
  /** Who may dress by this method today. */
  readonly qualifiedOperators: readonly string[];
  /** Skills that the route asks for and nobody holds. */
  readonly missingSkills: readonly Skill[];
  readonly reasons: readonly PlanReason[];
  readonly cautions: readonly string[];
  readonly facts: readonly TradeFact[];
  readonly steps: readonly RouteStep[];
  /** How copper, lead and minutes were reckoned. */
  readonly why: readonly string[];
}

/** The row of a dressing method: for each way to take the balls off where the device is reused, or the one without. */
export function planRows(question: MethodPlanQuestion, method: DressingMethod): readonly PlanRow[] {
  const outcome = dressingOutcome(question, method);
  if (question.goal === 'new-device') return [planRow(question, method, undefined, outcome)];
  return DRESSING_METHODS.map((deballing) => planRow(question, method, deballing, outcome));
}

function planRow(
  question: MethodPlanQuestion,
  method: DressingMethod,
  deballing: DressingMethod | undefined,
  outcome: DressingOutcome,
): PlanRow {
  const { goal, stage, site, device, nozzleWidthMm } = question;
  const area = { ...site, nozzleWidthMm };
  const passes = Math.max(1, outcome.passes);
  const route = routeSteps({ goal, stage, refdes: site.refdes, device, area, dressing: method, passes, deballing });
  const steps = route.map((step) => withProfile(question, step));
  const spends = spendsOf(steps);
  const neighbours = question.neighbours.map((neighbour) => neighbourSpend(neighbour, steps));
  const missingSkills = [...new Set(steps.map(({ skill }) => skill))].filter(
    (skill) => holders(question, skill).length === 0,
  );
  const reasons = [
    ...methodReasons(question, steps),
    ...spendReasons(question, spends),
    ...neighbours.flatMap(({ reasons }) => reasons),
    ...copperReasons(question, outcome),
    ...leadReasons(question, method, outcome),
    ...missingSkills.map((skill) => skillReason(question, skill)),
  ];
  const { cautions, facts } = DRESSING_METHOD_FACTS[method];
  const underfill =
    site.underfilled === true ? ['The device is underfilled: heat softens the underfill, do not pry.'] : [];
  return {
    method,
    ...(deballing !== undefined && { deballing }),
    fits: !reasons.some(({ blocks }) => blocks),
    excursions: {
      site: spends.siteExcursions,
      device: spends.deviceExcursions,
      neighbours: neighbours.map(({ spend }) => spend),
    },
    copperLeftUm: outcome.copperLeftUm,
    copperCertainty: outcome.copperCertainty,
    leadPct: outcome.leadPct,
    passes: outcome.passes,
    minutes: steps.reduce((sum, { minutes }) => sum + minutes, 0),
    skill: method,
    qualifiedOperators: holders(question, method),
    missingSkills,
    reasons,
    cautions: [...cautions, ...underfill],
    facts,
    steps,
    why: [...outcome.why, ...steps.map((step) => `${step.type}: ${step.why}`), 'minutes are house assumptions'],
  };
}

function withProfile({ profiles }: MethodPlanQuestion, step: RouteStep): RouteStep {
  const spreading = spreadingOf(step);
  const profile = spreading === undefined ? undefined : profiles?.[spreading];
  return profile === undefined ? step : { ...step, profile };
}

function holders({ operators }: MethodPlanQuestion, skill: Skill): readonly string[] {
  return operators.filter(({ skills }) => skills.includes(skill)).map(({ operator }) => operator);
}

function spendReasons(question: MethodPlanQuestion, spends: ReturnType<typeof spendsOf>): readonly PlanReason[] {
  const site: PlanSubject = { kind: 'site', name: question.site.refdes };
  const device: PlanSubject = { kind: 'device', name: question.device ?? 'the new device' };
  const spentOf = ({ limit }: PlanBudget): number => {
    if (limit === 'site-reworks') return spends.siteReworks;
    if (limit === 'site-dressings') return spends.siteDressings;
    return limit === 'site-excursions' ? spends.siteExcursions : 0;
  };
  return [
    ...question.siteBudgets.flatMap((budget) => budgetReasons(budget, spentOf(budget), site)),
    ...budgetReasons(question.deviceBudget, spends.deviceExcursions, device),
  ];
}
