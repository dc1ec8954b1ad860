import { UnknownAlloy } from './lead-fraction.js';
import { Flush, leadInJoint, LeadJoint } from './lead-in-joint.js';

export type FlushesNeeded =
  | {
      readonly kind: 'flushes';
      readonly count: number;
      /** wt% after no flush, one, two, … */
      readonly leadPct: readonly number[];
    }
  | { readonly kind: 'never'; readonly leadPct: readonly number[]; readonly why: string };

/** More flushes than this are no plan. House choice. */
const MOST_FLUSHES = 10;

/**
 * How many equal flushes, after those the joint names, bring its lead to `limitPct` wt% or less. `never` where ten do not.
 * @throws RangeError as `leadInJoint`, and where the limit is no number.
 */
export function flushesNeeded(joint: LeadJoint, flush: Flush, limitPct: number): FlushesNeeded | UnknownAlloy {
  if (!Number.isFinite(limitPct)) throw new RangeError(`not a lead limit in wt%: ${limitPct}`);
  const leadPct: number[] = [];
  const flushes = [...(joint.flushes ?? [])];
  for (let count = 0; count <= MOST_FLUSHES; count += 1) {
    const estimate = leadInJoint({ ...joint, flushes });
    if (estimate.kind === 'unknown') return estimate;
    leadPct.push(estimate.leadPct);
    if (estimate.leadPct <= limitPct) return { kind: 'flushes', count, leadPct };
    flushes.push(flush);
  }
  const why = `more than ${limitPct} wt% lead remain after ${MOST_FLUSHES} flushes: see ball, paste and flush alloy`;
  return { kind: 'never', leadPct, why };
}
