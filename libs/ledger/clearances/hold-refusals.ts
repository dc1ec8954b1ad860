import { World } from '../../domain/book/state.js';
import { PlannedStep } from '../../domain/clearance/clearance.js';
import { PlanReason } from '../../domain/clearance/plan-verdict.js';
import { knownAs } from '../../domain/clearance/reserved-of.js';
import { StepReach } from '../../domain/clearance/simulate-plan.js';
import { HoldSubject, holdSubjectKey, isSubject, streamOfHold } from '../../domain/holds/hold-subject.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { decisionOn, HoldRecord } from '../holds/hold-record.js';

/** What a plan is held against the holds with. */
export interface HeldPlan {
  readonly subject: StreamKey;
  readonly station: string;
  readonly operator: string;
  readonly plans: readonly PlannedStep[];
  readonly reaches: readonly StepReach[];
  readonly world: Pick<World, 'devices'>;
}

/** Ledgers whose holds may refuse a plan, besides those of the unit and its devices. */
export function streamsAsked(plan: Pick<HeldPlan, 'station' | 'operator' | 'plans'>): StreamKey[] {
  const { station, operator, plans } = plan;
  const profiles = plans.flatMap(({ profile }) =>
    profile === undefined ? [] : [{ kind: 'profile' as const, ...profile }],
  );
  const subjects: HoldSubject[] = [{ kind: 'station', station }, { kind: 'operator', operator }, ...profiles];
  return [...new Set(subjects.map(streamOfHold))];
}

/**
 * Holds that refuse a plan. What is decided to be scrap refuses everything, and what goes back to its owner is closed
 * until it has come in again; an open hold refuses unless rework or repair was decided, which is what the plan may be.
 * @param cameBack whether what a hold is on has left and come in again since that was decided
 */
export function holdRefusals(
  holds: readonly HoldRecord[],
  plan: HeldPlan,
  cameBack: (hold: HoldRecord) => boolean,
): readonly PlanReason[] {
  return holds.flatMap((hold) => {
    const refusal = refusalOf(hold, cameBack);
    if (refusal === undefined || !concerns(hold, plan, refusal)) return [];
    const { code, remedy } = refusal;
    const { subject, reason, evidence } = hold;
    return [{ code, subject, hold: hold.id, detail: `${reason}: ${sentence(evidence.summary)}`, remedy }];
  });
}

/** What people noted may end without a stop, and a remedy follows it. */
function sentence(text: string): string {
  return /[.!?]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`;
}

interface Refusal {
  readonly code: 'decided-scrap' | 'route-closed' | 'hold-open';
  readonly remedy: string;
}

function refusalOf(hold: HoldRecord, cameBack: (hold: HoldRecord) => boolean): Refusal | undefined {
  if (hold.state === 'withdrawn') return undefined;
  const decision = decisionOn(hold);
  if (decision === 'scrap') {
    return { code: 'decided-scrap', remedy: 'Scrap it, or have quality sign another disposition of the hold.' };
  }
  if (decision === 'return-to-customer' && !cameBack(hold)) {
    const remedy = 'Ship it to its owner; it can be worked on once it has been received again.';
    return { code: 'route-closed', remedy };
  }
  if (hold.state !== 'open' || decision === 'rework' || decision === 'repair') return undefined;
  // The hold on a parked event is not decided about: it ends when the event is judged or struck.
  if (hold.reason === 'event-parked') return { code: 'hold-open', remedy: hold.remedy };
  return { code: 'hold-open', remedy: `Have quality decide on hold ${hold.id} and release it. ${hold.remedy}` };
}

function concerns({ subject }: HoldRecord, plan: HeldPlan, { code }: Refusal): boolean {
  switch (subject.kind) {
    case 'unit':
      return holdSubjectKey(subject) === plan.subject;
    case 'site': {
      // A board with a site to be scrapped or sent back is no longer worked on elsewhere either.
      const key = holdSubjectKey(subject);
      const isOfUnit = key.startsWith(`${plan.subject}#`);
      return isOfUnit && (code !== 'hold-open' || plan.reaches.some(({ subjects }) => subjects.has(key)));
    }
    case 'device': {
      const named = knownAs(plan.world, subject);
      const key = isSubject(named) ? holdSubjectKey(named) : '';
      return plan.reaches.some((reach) => reach.subjects.has(key) && !isItsRemovalToScrap(reach, key));
    }
    case 'station':
      return subject.station === plan.station;
    case 'operator':
      return subject.operator === plan.operator;
    case 'profile':
      return plan.plans.some(({ profile }) => profile?.name === subject.name && profile.revision === subject.revision);
  }
}

function isItsRemovalToScrap({ plan, device }: StepReach, key: string): boolean {
  return plan.type === 'heatbook.device.removed.v1' && plan.fate === 'scrap' && key === `devices/${String(device)}`;
}
