import { PlanNeighbour, SpreadingStep } from './plan-question.js';
import { budgetReasons, PlanReason, PlanSubject } from './plan-reason.js';
import { RouteStep } from './route.js';

/** Excursions that a route is expected to cost the device beside its site. */
export interface NeighbourSpend {
  readonly refdes: string;
  readonly counted: number;
  readonly possible: number;
  readonly fits: boolean;
}

/** What the hot steps of a route spend of a neighbour, by the verdict on each, and what stands against it. */
export function neighbourSpend(
  neighbour: PlanNeighbour,
  steps: readonly RouteStep[],
): { spend: NeighbourSpend; reasons: readonly PlanReason[] } {
  const { refdes, verdicts, budget, countPossible } = neighbour;
  const found = steps.flatMap((step) => {
    const spreading = spreadingOf(step);
    return spreading === undefined ? [] : [verdicts[spreading]];
  });
  const counted = found.filter((verdict) => verdict === 'counts').length;
  const possible = found.filter((verdict) => verdict === 'possible').length;
  const subject: PlanSubject = { kind: 'neighbour', name: refdes };
  const over = budgetReasons(budget, counted + (countPossible === true ? possible : 0), subject);
  const reasons: PlanReason[] = [...over];
  if (possible > 0) {
    reasons.push({
      code: 'neighbour-possible',
      subject,
      blocks: false,
      detail: `${refdes} may see ${possible} excursion(s): no profile says how hot it gets.`,
      remedy: `Put a thermocouple on ${refdes}, or qualify the profile with its peak.`,
    });
  }
  return { spend: { refdes, counted, possible, fits: !over.some(({ blocks }) => blocks) }, reasons };
}

/** What a step is among those whose heat spreads; undefined where it does not. */
export function spreadingOf(step: RouteStep): SpreadingStep | undefined {
  if (!step.spreads) return undefined;
  if (step.method === 'fountain' || step.method === 'coupon') return step.method;
  return step.type === 'heatbook.device.removed.v1' ? 'removal' : 'placement';
}
