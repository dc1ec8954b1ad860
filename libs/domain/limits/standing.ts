import { budgetBreach, limitPlace, spentOf, tallyOf } from '../book/budgets.js';
import { siteIn } from '../book/evolve.js';
import { estimateBreach, measuredLeadBreach } from '../book/lead-rules.js';
import { copperBreach, padCopper } from '../book/pad-wear.js';
import { UnitState, World } from '../book/state.js';
import { Rules } from '../setup/setup-data.js';
import { Subject, unitKey } from '../subject/subject.js';
import { Breach } from './breach.js';
import { BUDGET_KINDS, BudgetKind, LimitKind } from './limit-rule.js';
import { ResolvedLimit, resolveLimit } from './resolve-limit.js';

/** How a subject stands under the limit that governs it. */
export interface Standing {
  /** What is compared: spent, um of copper left, wt% of lead; null where nothing is known or nothing limits it. */
  readonly used: number | null;
  readonly limit: ResolvedLimit | undefined;
  readonly breach: Breach | undefined;
}

type Site = Extract<Subject, { kind: 'site' }>;

/** What of a unit, without its devices, a limit of this kind is about. */
export function subjectsOf(unit: UnitState, kind: LimitKind): readonly Subject[] {
  const { assembly, serial } = unit;
  if (kind === 'unit-reflows') return [{ kind: 'unit', assembly, serial }];
  if (kind === 'device-excursions') return [];
  return Object.keys(unit.sites).map((refdes) => ({ kind: 'site', assembly, serial, refdes }));
}

/**
 * Judges a subject by what the book keeps of it. Pads that no molten solder has touched and joints that nobody has made
 * or measured here are in no breach, as in the fold.
 * @param at normalised time: which revisions and concessions are in force.
 * @throws Error where `world` lacks the subject.
 */
export function standingOf(world: World, rules: Rules, kind: LimitKind, subject: Subject, at: string): Standing {
  const limit = resolveLimit(rules, kind, limitPlace(world, rules, subject, at));
  const unjudged: Standing = { used: null, limit, breach: undefined };
  if (limit === undefined) return unjudged;
  if (isBudget(kind)) {
    const tally = tallyOf(world, subject, kind);
    return { used: spentOf(tally, limit), limit, breach: budgetBreach(tally, limit, kind) };
  }
  if (subject.kind !== 'site') return unjudged;
  if (kind === 'pad-copper-min') return copperStanding(world, rules, subject, limit) ?? unjudged;
  if (kind === 'joint-lead-max') return leadStanding(world, rules, subject, limit) ?? unjudged;
  return unjudged;
}

function copperStanding(world: World, rules: Rules, subject: Site, limit: ResolvedLimit): Standing | undefined {
  const { assembly, serial, refdes } = subject;
  const unit = world.units.get(unitKey(assembly, serial));
  const site = unit && siteIn(unit, refdes);
  if (site === undefined || site.contacts.length === 0) return undefined;
  const siteDesign = rules.find('assembly', assembly)?.body.sites.find((one) => one.refdes === refdes);
  const at = { refdes, site, siteDesign };
  return { used: padCopper(at, rules)?.leftUm ?? null, limit, breach: copperBreach(at, rules, limit) };
}

function leadStanding(world: World, rules: Rules, subject: Site, limit: ResolvedLimit): Standing | undefined {
  const { assembly, serial, refdes } = subject;
  const unit = world.units.get(unitKey(assembly, serial));
  const site = unit && siteIn(unit, refdes);
  if (site === undefined || rules.find('assembly', assembly)?.body.leadFree !== true) return undefined;
  const { measuredPct, estimate } = site.lead;
  if (measuredPct !== null) return { used: measuredPct, limit, breach: measuredLeadBreach(measuredPct, limit) };
  if (estimate === null) return undefined;
  return { used: estimate.leadPct, limit, breach: estimateBreach(refdes, estimate, limit) };
}

function isBudget(kind: LimitKind): kind is BudgetKind {
  return BUDGET_KINDS.some((budget) => budget === kind);
}
