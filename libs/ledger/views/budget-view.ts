import { tallyOf, budgetLimit, spentOf } from '../../domain/book/budgets.js';
import { World } from '../../domain/book/state.js';
import { Basis, basisOf, Prior, usedOf } from '../../domain/book/tally.js';
import { BudgetKind } from '../../domain/limits/limit-rule.js';
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
  /** May be negative. Where the limit spends possible excursions too, they are taken off. */
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
  } | null;
}

/** @throws Error where `world` lacks the subject */
export function budgetView(world: World, rules: Rules, subject: Subject, kind: BudgetKind): BudgetView {
  const tally = tallyOf(world, subject, kind);
  const limit = budgetLimit(world, rules, subject, kind);
  const allowed = typeof limit?.allowed === 'number' ? limit.allowed : null;
  const counted = (known: Basis): number => tally.counted.filter(({ basis }) => basis === known).length;
  const [measured, declared] = [counted('measured'), counted('declared')];
  return {
    subject,
    limit: kind,
    used: usedOf(tally),
    possible: tally.possible.length,
    reserved: 0,
    allowed,
    remaining: limit === undefined || allowed === null ? null : allowed - spentOf(tally, limit),
    basis: basisOf(tally),
    inputs: { prior: tally.prior, measured, declared, inferred: tally.counted.length - measured - declared },
    rule: limit === undefined ? null : ruleOf(limit),
  };
}

function ruleOf({ name, revision, source, action, countPossible }: NonNullable<ReturnType<typeof budgetLimit>>) {
  return { name, revision, source, action, countPossible };
}
