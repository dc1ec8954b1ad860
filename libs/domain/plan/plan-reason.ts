import { LimitKind } from '../limits/limit-rule.js';
import { PlanBudget } from './plan-question.js';

/** Whom a reason is about. */
export interface PlanSubject {
  readonly kind: 'site' | 'device' | 'neighbour' | 'operator';
  readonly name: string;
}

/** Why a method does not fit, or what to know before it is taken. */
export interface PlanReason {
  /** The limit that is concerned, or what else is worth a word. */
  readonly code: LimitKind | 'history-unknown' | 'copper-unknown' | 'lead-unknown' | 'neighbour-possible';
  readonly subject: PlanSubject;
  /** True: the method does not fit while this stands. */
  readonly blocks: boolean;
  readonly detail: string;
  readonly remedy: string;
  /** The figure that the limit would have to allow, beside what it allows: what a concession would have to say. */
  readonly asks?: { readonly allowed: number | string; readonly needed: number | string };
}

/** What a spend does to a budget: nothing to say, or that it goes over, or that its history is unknown. */
export function budgetReasons(
  budget: PlanBudget | undefined,
  spends: number,
  subject: PlanSubject,
): readonly PlanReason[] {
  if (budget === undefined || spends === 0) return [];
  const { limit, used, reserved, allowed, action, historyUnknown } = budget;
  const reasons: PlanReason[] = [];
  const needed = used + reserved + spends;
  if (allowed !== null && needed > allowed) {
    reasons.push({
      code: limit,
      subject,
      blocks: action === 'hold',
      detail: `${limit} of ${subject.name}: ${used} used and ${reserved} reserved, this would spend ${spends}, ${allowed} are allowed.`,
      remedy: REMEDIES[limit],
      asks: { allowed, needed },
    });
  }
  if (historyUnknown === true) {
    reasons.push({
      code: 'history-unknown',
      subject,
      blocks: false,
      detail: `Nobody has said what ${subject.name} had spent of ${limit} before this book knew it.`,
      remedy: 'Ask the owner, and post what was spent before.',
    });
  }
  return reasons;
}

const REMEDIES: Readonly<Record<PlanBudget['limit'], string>> = {
  'device-excursions': 'Take a device with excursions left, or have a concession signed for this one.',
  'site-reworks': 'Have quality dispose of the unit, or have a concession signed for the site.',
  'site-dressings': 'Inspect the pads for thinning before the site is dressed again.',
  'site-excursions': 'Inspect pads and laminate before the site is heated again.',
  'unit-reflows': 'Keep to local heat, or have a concession signed for the unit.',
};
