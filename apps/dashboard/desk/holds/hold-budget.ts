import type { Budget } from '../units/budget-words.js';
import { type ExplainedHold, subjectKeyOf } from './hold-shape.js';

/** The tally that a hold is about; undefined where it is about none. */
export function brokenBudget({ budgets, reason, subject }: ExplainedHold): Budget | undefined {
  const key = subjectKeyOf(subject);
  return budgets.find((budget) => budget.limit === reason && subjectKeyOf(budget.subject) === key);
}

/** The other tallies, those of one subject together, in the order of the book. */
export function otherBudgets(hold: ExplainedHold): readonly (readonly [Budget, ...Budget[]])[] {
  const broken = brokenBudget(hold);
  const groups = new Map<string, [Budget, ...Budget[]]>();
  for (const budget of hold.budgets) {
    if (budget === broken) continue;
    const key = subjectKeyOf(budget.subject);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [budget]);
    else group.push(budget);
  }
  return [...groups.values()];
}

/** A tally as it stood when it broke: what was used of what was allowed then; as it is now where that is not told. */
export function figuresThen(
  { evidence }: ExplainedHold,
  now: Budget,
): { readonly used: number; readonly allowed: number } | null {
  const { used, allowed } = evidence;
  if (used !== undefined && typeof allowed === 'number') return { used, allowed };
  return now.allowed === null ? null : { used: now.used, allowed: now.allowed };
}
