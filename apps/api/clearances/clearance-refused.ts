import { PlanReason, PlanWarning } from '../../../libs/domain/clearance/plan-verdict.js';
import { ProblemAnswer, problemDocument } from '../http/problem.js';

/** The problem of a refusal: every reason with what would mend it, and what the plan would have been warned of besides. */
export function clearanceRefused(refusal: {
  readonly reasons: readonly PlanReason[];
  readonly warnings: readonly PlanWarning[];
}): ProblemAnswer {
  const { reasons, warnings } = refusal;
  const [first] = reasons;
  const more = reasons.length > 1 ? ` (and ${String(reasons.length - 1)} more, see reasons)` : '';
  const detail = first === undefined ? 'See reasons.' : `${first.code}: ${first.detail} ${first.remedy}${more}`;
  return new ProblemAnswer({ ...problemDocument('clearance-refused', detail), ...{ reasons, warnings } });
}
