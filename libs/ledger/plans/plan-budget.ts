import { tallyOf } from '../../domain/book/budgets.js';
import { World } from '../../domain/book/state.js';
import { usedOf } from '../../domain/book/tally.js';
import { reservedOf } from '../../domain/clearance/reserved-of.js';
import { BudgetKind } from '../../domain/limits/limit-rule.js';
import { LimitPlace, resolveLimit } from '../../domain/limits/resolve-limit.js';
import { PlanBudget } from '../../domain/plan/plan-question.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Subject } from '../../domain/subject/subject.js';

/** What a subject has spent of a budget, as a plan counts it; undefined where no figure limits it. */
export function planBudget(
  world: World,
  rules: Rules,
  place: LimitPlace,
  subject: Subject,
  kind: BudgetKind,
): (PlanBudget & { readonly countPossible: boolean }) | undefined {
  const limit = resolveLimit(rules, kind, { ...place, subject });
  if (limit === undefined || typeof limit.allowed !== 'number') return undefined;
  const tally = tallyOf(world, subject, kind);
  const historyUnknown = tally.prior.basis === 'unknown';
  const { allowed, action, countPossible } = limit;
  const reserved = reservedOf(world, subject, kind, countPossible);
  const budget = { limit: kind, used: usedOf(tally), reserved, allowed, action, countPossible };
  return historyUnknown ? { ...budget, historyUnknown } : budget;
}
