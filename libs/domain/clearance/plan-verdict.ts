import { budgetLimit, tallyOf } from '../book/budgets.js';
import { Effect } from '../book/effect.js';
import { World } from '../book/state.js';
import { Count } from '../book/tally.js';
import { orderTime } from '../events/event-order.js';
import { Cause, holdKey } from '../holds/cause.js';
import { HoldSubject } from '../holds/hold-subject.js';
import { BUDGET_KINDS, BudgetKind, LIMIT_KINDS, LimitKind } from '../limits/limit-rule.js';
import { ResolvedLimit } from '../limits/resolve-limit.js';
import { Rules } from '../setup/setup-data.js';
import { Subject, subjectKey } from '../subject/subject.js';
import { Clearance, PlannedStep, Reservation, reservationsOf } from './clearance.js';
import { NO_PROFILE, PLAN_SOURCE, UNNAMED } from './planned-event.js';

/** What stands in a tally for what other clearances hold back. No station can be called so. */
export const RESERVED_SOURCE = '/clearances/reserved';

/** What a plan would spend of one budget. */
export interface PlanSpend {
  readonly subject: Subject;
  readonly limit: BudgetKind;
  /** By facts, so far. */
  readonly used: number;
  /** By other clearances. */
  readonly reserved: number;
  /** By this plan. */
  readonly asked: number;
  /** Null where nothing limits it. */
  readonly allowed: number | null;
}

/** Why a plan may not be done, and what would mend that. */
export interface PlanReason {
  /** A limit kind, a hold reason, or another word of docs/guide/clearances.md. */
  readonly code: string;
  readonly subject: HoldSubject;
  readonly limit?: LimitKind;
  readonly used?: number;
  readonly reserved?: number;
  readonly asked?: number;
  readonly allowed?: ResolvedLimit['allowed'];
  /** Id of the hold that refuses. */
  readonly hold?: string;
  readonly detail: string;
  readonly remedy: string;
}

export interface PlanWarning {
  readonly code: string;
  readonly subject: Subject;
  readonly detail: string;
  readonly remedy: string;
}

/** The figures of every budget that a plan touches, from a world in which its steps have happened. */
export function budgetsAsked(
  world: World,
  rules: Rules,
  asked: readonly Reservation[],
  at: string,
): readonly PlanSpend[] {
  const rows = new Map(asked.map((one) => [`${one.limit} ${subjectKey(one.subject)}`, one]));
  return [...rows.values()].map(({ subject, limit }) => {
    const tally = tallyOf(world, subject, limit);
    const rule = budgetLimit(world, rules, subject, limit, orderTime(at));
    const counts = [...tally.counted, ...(rule?.countPossible === true ? tally.possible : [])];
    const of = (wanted: (count: Count) => boolean): number => counts.filter(wanted).length;
    const reserved = of(({ event }) => event.source === RESERVED_SOURCE);
    const amount = of(({ event }) => event.source === PLAN_SOURCE);
    return {
      subject,
      limit,
      used: tally.prior.count + counts.length - reserved - amount,
      reserved,
      asked: amount,
      allowed: typeof rule?.allowed === 'number' ? rule.allowed : null,
    };
  });
}

/** What the fold would hold is what a plan is refused for, once for each reason and subject. */
export function reasonsOf(
  causes: readonly Cause[],
  budgets: readonly PlanSpend[],
  others: readonly Clearance[],
): readonly PlanReason[] {
  const newest = new Map(causes.map((cause) => [holdKey(cause), cause]));
  return [...newest.values()].map((cause) => {
    const { reason, subject, evidence, remedy } = cause;
    const budget = budgets.find((one) => one.limit === reason && subjectKey(one.subject) === subjectKey(subject));
    if (budget !== undefined && isBudget(reason)) return overBudget(budget, cause, others);
    const { allowed, summary } = evidence;
    const limit = LIMIT_KINDS.find((kind) => kind === reason);
    return {
      code: reason,
      subject,
      ...(limit !== undefined && { limit }),
      ...(allowed !== undefined && { allowed }),
      detail: summary,
      remedy,
    };
  });
}

function isBudget(reason: string): reason is BudgetKind {
  return BUDGET_KINDS.some((kind) => kind === reason);
}

/** As it is called at the bench: the device by its name, a site by its designator. */
function nameOf(subject: Subject): string {
  if (subject.kind === 'device') return `device ${subject.device}`;
  return subject.kind === 'site' ? `site ${subject.refdes}` : 'the unit';
}

/** By which limit, and where more is allowed than it says, by which concession. */
function ruleIn({ evidence: { limit } }: Cause): string {
  if (limit === undefined) return '';
  const conceded = limit.concession === undefined ? '' : `, concession ${limit.concession}`;
  return ` (limit ${limit.name}, revision ${String(limit.revision)}${conceded})`;
}

function overBudget(budget: PlanSpend, cause: Cause, others: readonly Clearance[]): PlanReason {
  const { subject, limit, used, reserved, asked, allowed } = budget;
  const holders = others.filter((clearance) =>
    reservationsOf(clearance).some((one) => one.limit === limit && subjectKey(one.subject) === subjectKey(subject)),
  );
  // What is given back helps only where the plan fits beside what is used.
  const isHelped = holders.length > 0 && (allowed === null || used + asked <= allowed);
  const giveBack = isHelped ? ` Or give back clearance ${holders.map(({ id }) => id).join(', ')}.` : '';
  return {
    code: limit,
    subject,
    limit,
    ...{ used, reserved, asked },
    ...(allowed !== null && { allowed }),
    detail: `Of ${nameOf(subject)}, ${String(used)} used, ${String(reserved)} reserved and ${String(asked)} asked are more than the ${String(allowed)} allowed${ruleIn(cause)}.`,
    remedy: `${cause.remedy}${giveBack}`,
  };
}

/** What the fold would warn of, once for each code and subject, in terms of the plan. */
export function warningsOf(effects: readonly Effect[], plans: readonly PlannedStep[]): readonly PlanWarning[] {
  const found = new Map<string, PlanWarning>();
  for (const effect of effects) {
    if (effect.kind !== 'warned') continue;
    const { code, subject, detail, remedy } = effect;
    const isUnnamed = subject.kind === 'device' && subject.device === UNNAMED;
    const isUnprofiled = code === 'profile-unknown' && detail.includes(NO_PROFILE.name);
    if (isUnnamed) found.set(`device-unnamed`, deviceUnnamed(effects, subject));
    else if (isUnprofiled) found.set('profile-unnamed', profileUnnamed(plans, subject));
    else found.set(`${code} ${subjectKey(subject)}`, { code, subject, detail, remedy });
  }
  return [...found.values()];
}

function deviceUnnamed(effects: readonly Effect[], fallback: Subject): PlanWarning {
  const mounted = effects.find((effect) => effect.kind === 'mounted' && effect.device === UNNAMED);
  const subject: Subject = mounted?.kind === 'mounted' ? { kind: 'site', ...mounted.place } : fallback;
  return {
    code: 'device-unnamed',
    subject,
    detail:
      'The plan does not name the device that is placed, so neither its excursions nor its floor life were looked at.',
    remedy: 'Name the device in the step.',
  };
}

function profileUnnamed(plans: readonly PlannedStep[], subject: Subject): PlanWarning {
  const steps = plans.filter(({ profile }) => profile === undefined).map(({ type }) => type);
  return {
    code: 'profile-unnamed',
    subject,
    detail: `Steps without a profile: ${[...new Set(steps)].join(', ')}. What their heat does to neighbours is not known.`,
    remedy: 'Name the profile in the step.',
  };
}
