import { readableTime } from '../events/event-order.js';
import { Breach, breachOf } from '../limits/breach.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { LimitPlace, ResolvedLimit, resolveLimit } from '../limits/resolve-limit.js';
import { Rules } from '../setup/setup-data.js';
import { Subject, unitKey } from '../subject/subject.js';
import { deviceOf, siteOf, unitOf } from './evolve.js';
import { Judgement, tellBreach } from './judgement.js';
import { World } from './state.js';
import { Tally, usedOf } from './tally.js';

export function tallyOf(world: World, subject: Subject, limit: BudgetKind): Tally {
  if (subject.kind === 'device') return deviceOf(world, subject.device).excursions;
  const key = unitKey(subject.assembly, subject.serial);
  if (subject.kind === 'unit') return unitOf(world, key).reflows;
  const site = siteOf(world, key, subject.refdes);
  if (limit === 'site-reworks') return site.reworks;
  return limit === 'site-dressings' ? site.dressings : site.excursions;
}

/**
 * What limits for a subject are looked up by. A loose device is governed by its part alone.
 * @param at when what is judged happened, normalised.
 */
export function limitPlace(world: World, rules: Rules, subject: Subject, at: string): LimitPlace {
  if (subject.kind !== 'device') {
    const { assembly } = subject;
    const design = rules.find('assembly', assembly)?.body;
    const refdes = subject.kind === 'site' ? subject.refdes : undefined;
    const part = design?.sites.find((site) => site.refdes === refdes)?.part;
    return { customer: design?.customer, assembly, part, refdes, subject, at };
  }
  const { place, part } = deviceOf(world, subject.device);
  if (place === null) return { part: part ?? undefined, subject, at };
  const { assembly, refdes } = place;
  const design = rules.find('assembly', assembly)?.body;
  const sitePart = design?.sites.find((site) => site.refdes === refdes)?.part;
  return { customer: design?.customer, assembly, part: part ?? sitePart, refdes, subject, at };
}

/** @param at normalised time at which the limit is asked for. */
export function budgetLimit(
  world: World,
  rules: Rules,
  subject: Subject,
  kind: BudgetKind,
  at: string,
): ResolvedLimit | undefined {
  return resolveLimit(rules, kind, limitPlace(world, rules, subject, at));
}

/** What a limit takes as spent: what is counted, and what is possible where the limit says so. */
export function spentOf(tally: Tally, limit: ResolvedLimit): number {
  return usedOf(tally) + (limit.countPossible ? tally.possible.length : 0);
}

const REMEDIES: Record<BudgetKind, string> = {
  'device-excursions':
    'Replace the device by one with excursions left, or have an approver sign a concession that the customer has approved.',
  'site-reworks':
    'Have quality decide on the unit, or have an approver sign a concession for the site that the customer has approved.',
  'site-dressings': 'Inspect the pads for thinning before the site is dressed again.',
  'site-excursions': 'Inspect pads and laminate before the site is heated again.',
  'unit-reflows':
    'Keep to local heat from here on, and have an approver sign a concession that the customer has approved.',
};

/** Judges a budget after it changed: over the limit calls for a hold, or a warning where the limit only warns. */
export function checkBudget(j: Judgement, subject: Subject, kind: BudgetKind): void {
  const limit = budgetLimit(j.world, j.rules, subject, kind, j.event.order.at);
  const breach = limit && budgetBreach(tallyOf(j.world, subject, kind), limit, kind);
  if (breach !== undefined) tellBreach(j, subject, breach);
}

/** What shows that a tally is over its limit; undefined where it is not, or the limit has no figure. */
export function budgetBreach(tally: Tally, limit: ResolvedLimit, kind: BudgetKind): Breach | undefined {
  const used = spentOf(tally, limit);
  const { name, revision, unit, allowed } = limit;
  if (typeof allowed !== 'number' || used <= allowed) return undefined;
  const conceded = limit.concession === undefined ? '' : `, concession ${limit.concession}`;
  const summary = `${String(used)} of ${String(allowed)} allowed ${unit} used (limit ${name}, revision ${String(revision)}${conceded}).`;
  const details = [
    `${String(tally.prior.count)} before (${tally.prior.basis})`,
    ...tally.counted.map((count) => `${readableTime(count.at)} ${count.why} (${count.basis})`),
  ];
  return breachOf(limit, { summary, used, details, remedy: REMEDIES[kind] });
}
