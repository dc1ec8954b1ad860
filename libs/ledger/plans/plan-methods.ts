import { siteIn } from '../../domain/book/evolve.js';
import { padCopper, ratesOf } from '../../domain/book/pad-wear.js';
import { SiteState, UnitState, World } from '../../domain/book/state.js';
import { orderTime } from '../../domain/events/event-order.js';
import { ProfileRef } from '../../domain/events/heat.js';
import { LimitPlace, ResolvedLimit, resolveLimit } from '../../domain/limits/resolve-limit.js';
import { MethodPlan, methodPlan } from '../../domain/plan/method-plan.js';
import { MethodPlanQuestion, PlanBudget, SpreadingStep } from '../../domain/plan/plan-question.js';
import { PlanGoal, PlanStage } from '../../domain/plan/route.js';
import { AssemblyDesign, Rules, SiteDesign } from '../../domain/setup/setup-data.js';
import { SetupBook } from '../setup/setup-book.js';
import { planBudget } from './plan-budget.js';
import { planNeighbours, planProfiles } from './plan-neighbours.js';

/** What somebody wants to do at a site, and with what. */
export interface MethodPlanWish {
  readonly refdes: string;
  readonly goal: PlanGoal;
  /** The loose device to be put back, where the site is empty already. */
  readonly device?: string;
  /** Profiles that the steps would use; those of the setup for this site and purpose where left out. */
  readonly profiles?: Partial<Record<SpreadingStep, ProfileRef>>;
  /** Solder that flushes the pads, and that a fountain holds; the balls' alloy where left out. */
  readonly freshAlloy?: string;
  readonly paste?: { readonly alloy: string; readonly volumeMm3: number };
  readonly nozzleWidthMm?: number;
  /** RFC 3339: qualifications count as they are then. */
  readonly now: string;
}

/** A site with all that is known around it. */
interface PlanPlace {
  readonly world: World;
  readonly rules: Rules;
  readonly unit: UnitState;
  readonly design: AssemblyDesign;
  readonly siteDesign: SiteDesign;
  readonly site: SiteState;
  readonly place: LimitPlace;
}

/**
 * What each dressing method would spend at a site here and now, and which fits.
 * @param world holds the unit and the devices aboard, and the loose device where one is named.
 * @returns `unknown-site` where the unit or its assembly has no such site.
 */
export function planMethods(
  world: World,
  setup: SetupBook,
  unit: UnitState,
  wish: MethodPlanWish,
): MethodPlan | 'unknown-site' {
  const rules = setup.latest();
  const design = rules.find('assembly', unit.assembly)?.body;
  const siteDesign = design?.sites.find(({ refdes }) => refdes === wish.refdes);
  const site = siteIn(unit, wish.refdes);
  if (design === undefined || siteDesign === undefined || site === undefined) return 'unknown-site';
  const { assembly, serial } = unit;
  const { refdes } = wish;
  const subject = { kind: 'site', assembly, serial, refdes } as const;
  const at = orderTime(wish.now);
  const place: LimitPlace = { customer: design.customer, assembly, part: siteDesign.part, refdes, subject, at };
  return methodPlan(questionOf({ world, rules, unit, design, siteDesign, site, place }, setup, wish));
}

function questionOf(at: PlanPlace, setup: SetupBook, wish: MethodPlanWish): MethodPlanQuestion {
  const { world, rules, siteDesign, site, place, unit } = at;
  const { refdes, goal, nozzleWidthMm } = wish;
  const subject = { kind: 'site', assembly: unit.assembly, serial: unit.serial, refdes } as const;
  const device = wish.device ?? site.device ?? undefined;
  const methods = resolveLimit(rules, 'method-allowed', place);
  const budget = deviceBudget(at, goal, device);
  const profiles = planProfiles(at, setup, wish.profiles);
  return {
    goal,
    stage: stageOf(site),
    site: siteDesign,
    ...(goal === 'reuse-device' && device !== undefined && { device }),
    siteBudgets: (['site-reworks', 'site-dressings', 'site-excursions'] as const).flatMap(
      (kind) => planBudget(world, rules, place, subject, kind) ?? [],
    ),
    ...(budget && { deviceBudget: budget }),
    neighbours: planNeighbours(at, profiles),
    profiles,
    copper: copperOf(at),
    lead: leadOf(at, wish),
    operators: operatorsOf(setup, wish.now),
    methodsAllowed: {
      methods: Array.isArray(methods?.allowed)
        ? methods.allowed.flatMap((row: unknown) => (typeof row === 'string' ? [row] : []))
        : [],
      action: methods?.action ?? 'hold',
    },
    qualifiedAction: resolveLimit(rules, 'qualified-operator', place)?.action ?? 'warn',
    ...(nozzleWidthMm !== undefined && { nozzleWidthMm }),
  };
}

function stageOf({ device, condition }: SiteState): PlanStage {
  if (device !== null) return 'fitted';
  return condition === 'dressed' ? 'dressed' : 'bare';
}

/** A new device has nothing behind it; one that is reused has what the book counts. */
function deviceBudget(at: PlanPlace, goal: PlanGoal, device: string | undefined): PlanBudget | undefined {
  if (goal === 'reuse-device' && device !== undefined && at.world.devices.has(device)) {
    const part = at.world.devices.get(device)?.part ?? at.siteDesign.part;
    return planBudget(at.world, at.rules, { ...at.place, part }, { kind: 'device', device }, 'device-excursions');
  }
  // No device yet, so none that a concession could be for.
  const limit = resolveLimit(at.rules, 'device-excursions', { ...at.place, subject: undefined });
  if (limit === undefined || typeof limit.allowed !== 'number') return undefined;
  return { limit: 'device-excursions', used: 0, reserved: 0, allowed: limit.allowed, action: limit.action };
}

function copperOf(at: PlanPlace): MethodPlanQuestion['copper'] {
  const limit = resolveLimit(at.rules, 'pad-copper-min', at.place);
  const { leftUm = null, certainty = 'estimate' } = padCopper(at, at.rules) ?? {};
  return {
    left: { leftUm, certainty },
    leastUm: figureOf(limit),
    action: limit?.action ?? 'warn',
    table: ratesOf(at.rules),
  };
}

function leadOf(
  { rules, design, siteDesign, site, place }: PlanPlace,
  wish: MethodPlanWish,
): MethodPlanQuestion['lead'] {
  const alloy = rules.find('part', siteDesign.part)?.body.ballAlloy ?? siteDesign.jointAlloy;
  return {
    leadFree: design.leadFree,
    limitPct: figureOf(resolveLimit(rules, 'joint-lead-max', place)) ?? Number.MAX_VALUE,
    remnantAlloy: site.remnant.alloy,
    ball: { diameterMm: siteDesign.ballDiameterMm, alloy },
    ...(wish.paste && { paste: { alloy: wish.paste.alloy, volumeMm3: wish.paste.volumeMm3 / siteDesign.pads } }),
    freshAlloy: wish.freshAlloy ?? alloy,
  };
}

function figureOf(limit: ResolvedLimit | undefined): number | null {
  return typeof limit?.allowed === 'number' ? limit.allowed : null;
}

/** Who holds which skills at that time. */
function operatorsOf(setup: SetupBook, now: string): MethodPlanQuestion['operators'] {
  return setup.all('operator').flatMap((revision) => {
    if (revision.kind !== 'operator') return [];
    const valid = revision.body.qualifications.filter(({ validUntil }) => orderTime(now) < orderTime(validUntil));
    return [{ operator: revision.name, skills: valid.map(({ skill }) => skill) }];
  });
}
