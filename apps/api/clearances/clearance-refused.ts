import { PlanReason, PlanWarning } from '../../../libs/domain/clearance/plan-verdict.js';
import { ProblemAnswer, problemDocument } from '../http/problem.js';

/** Whoever has more to mend than this mends these first: a unit may have any number of holds. */
const MOST_TOLD = 100;

/**
 * The problem of a refusal: the reasons with what would mend them, and what the plan would have been warned of besides; of each at most
 * a hundred.
 */
export function clearanceRefused(refusal: {
  readonly reasons: readonly PlanReason[];
  readonly warnings: readonly PlanWarning[];
}): ProblemAnswer {
  const { reasons, warnings } = refusal;
  const [first] = reasons;
  const more = reasons.length > 1 ? ` (and ${String(reasons.length - 1)} more, see reasons)` : '';
  const detail = first === undefined ? 'See reasons.' : `${first.code}: ${first.detail} ${first.remedy}${more}`;
  return new ProblemAnswer({
    ...problemDocument('clearance-refused', detail),
    ...{ reasons: reasons.slice(0, MOST_TOLD), warnings: warnings.slice(0, MOST_TOLD) },
  });
}
