import { allBudgets, Limit, LIMITS, PROFILES, Step } from '../reference/gate-words.js';
import { NaiveGate } from '../reference/naive-gate.js';
import { usedOf } from '../reference/naive-story.js';
import { Tell } from './gate-operation.js';
import { sensibleStep } from './sensible-step.js';

/** The place of the so-and-so newest, counted round; undefined where there is none. */
export function newest(list: readonly unknown[], which: number): number | undefined {
  return list.length === 0 ? undefined : list.length - 1 - (which % list.length);
}

/** The budget with the so-and-so least left, and what a concession for it is to allow. */
export function scarcest(
  naive: NaiveGate,
  which: number,
  more: number,
): { subject: string; limit: Limit; allowed: number } {
  const { spent } = naive.story();
  const left = ({ subject, limit }: { subject: string; limit: Limit }): number =>
    LIMITS[limit].allowed - usedOf(spent, subject, limit);
  const budgets = allBudgets().filter(({ limit }) => LIMITS[limit].action === 'hold');
  const chosen = [...budgets].sort((a, b) => left(a) - left(b))[which];
  if (chosen === undefined) throw new Error('there are more budgets than that');
  return { ...chosen, allowed: LIMITS[chosen.limit].allowed + more };
}

/** A step as somebody would do it who looks at the board. */
export function sensibly(naive: NaiveGate, { subject, doing }: Tell): Pick<Tell, 'subject' | 'doing'> {
  const chosen = sensibleStep(naive.story().bench, subject, doing);
  return { subject: chosen.kind === 'reballing' ? `devices/${String(chosen.device)}` : subject, doing: chosen };
}

/** The same step, not quite. */
export function another(plan: Step): Step {
  if (plan.kind === 'dressing') return { ...plan, method: plan.method === 'braid' ? 'coupon' : 'braid' };
  if (plan.kind === 'removal') return { ...plan, fate: plan.fate === 'keep' ? 'scrap' : 'keep' };
  const profile = 'profile' in plan ? PROFILES[(PROFILES.indexOf(plan.profile) + 1) % PROFILES.length] : undefined;
  return profile === undefined || plan.kind === 'pass' || plan.kind === 'reballing' ? plan : { ...plan, profile };
}
