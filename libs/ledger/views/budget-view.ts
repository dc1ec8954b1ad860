import { reservedOf } from '../../domain/clearance/reserved-of.js';
import { tallyOf, budgetLimit, spentOf } from '../../domain/book/budgets.js';
import { World } from '../../domain/book/state.js';
import { Basis, basisOf, Prior, usedOf } from '../../domain/book/tally.js';
import { orderTime } from '../../domain/events/event-order.js';
import { BudgetKind } from '../../domain/limits/limit-rule.js';
import { citationOf, ResolvedLimit } from '../../domain/limits/resolve-limit.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Subject } from '../../domain/subject/subject.js';

/** What a subject has spent of one limit and what is left, with the grounds for each figure. */
export interface BudgetView {
  readonly subject: Subject;
  readonly limit: BudgetKind;
  /** What is counted. */
  readonly used: number;
  /** What nobody measured and no profile rules out: shown beside the tally, not in it. */
  readonly possible: number;
  /** What clearances hold back for steps to come. */
  readonly reserved: number;
  /** Null where the setup has no such limit. */
  readonly allowed: number | null;
  /** After what is used and reserved. May be negative. Where the limit spends possible excursions too, they are taken off. */
  readonly remaining: number | null;
  /** The weakest ground that any part of `used` stands on. */
  readonly basis: Basis;
  readonly inputs: {
    /** What had been spent before the book knew the subject. */
    readonly prior: Prior;
    readonly measured: number;
    /** As the station said it: reworks and dressings. */
    readonly declared: number;
    readonly inferred: number;
  };
  readonly rule: {
    readonly name: string;
    readonly revision: number;
    readonly source: string;
    readonly action: 'hold' | 'warn';
    readonly countPossible: boolean;
    /** The concession by which more is allowed here. */
    readonly concession?: string;
  } | null;
}

/**
 * @param now RFC 3339: limits and concessions are read as of then.
 * @throws Error where `world` lacks the subject
 */
export function budgetView(world: World, rules: Rules, subject: Subject, kind: BudgetKind, now: string): BudgetView {
  const tally = tallyOf(world, subject, kind);
  const limit = budgetLimit(world, rules, subject, kind, orderTime(now));
  const allowed = typeof limit?.allowed === 'number' ? limit.allowed : null;
  const reserved = reservedOf(world, subject, kind, limit?.countPossible === true);
  const counted = (known: Basis): number => tally.counted.filter(({ basis }) => basis === known).length;
  const [measured, declared] = [counted('measured'), counted('declared')];
  return {
    subject,
    limit: kind,
    used: usedOf(tally),
    possible: tally.possible.length,
    reserved,
    allowed,
    remaining: limit === undefined || allowed === null ? null : allowed - spentOf(tally, limit) - reserved,
    basis: basisOf(tally),
    inputs: { prior: tally.prior, measured, declared, inferred: tally.counted.length - measured - declared },
    rule: limit === undefined ? null : ruleOf(limit),
  };
}

function ruleOf(limit: ResolvedLimit): BudgetView['rule'] {
  return { ...citationOf(limit), action: limit.action, countPossible: limit.countPossible };
}
