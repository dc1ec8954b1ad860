import { Graveness, gravenessOf } from '../../domain/holds/graveness.js';
import { DeskRefusal } from '../holds/desk-refusal.js';
import { refuseAssignment, refuseComment, refuseDisposition, refuseRelease } from '../holds/desk-rules.js';
import { fittingDecisions } from '../holds/fitting-decisions.js';
import { Decision, HoldRecord } from '../holds/hold-record.js';
import { isOverdue } from '../holds/hold-stage.js';
import { holdVersion } from '../holds/hold-version.js';
import { Principal } from '../identity/principal.js';
import { Seal } from '../ports/seal.js';
import { HoldView, holdView } from './hold-view.js';

/** Something that can be done about a hold, and whether whoever looks may do it now. */
interface DeskAction {
  readonly action: 'dispose' | 'release' | 'comment' | 'assign';
  readonly allowed: boolean;
  /** Why not, and what would make it possible. */
  readonly why: string | null;
}

/** A hold as the house works with it. What is added to what everybody sees stays in the house. */
export interface DeskHoldView extends HoldView {
  readonly assignee: string | null;
  /** RFC 3339 UTC. */
  readonly dueAt: string | null;
  readonly overdue: boolean;
  /** Since it was raised, until now or its release; h, to a hundredth. Null once it is withdrawn. */
  readonly ageHours: number | null;
  readonly graveness: Graveness;
  /** What can be decided about its subject. */
  readonly decisions: readonly Decision[];
  readonly actions: readonly DeskAction[];
  /** For If-Match: another one after any change. */
  readonly version: string;
}

/** How a hold is looked at: by whom, when (RFC 3339 UTC). */
export interface DeskEye {
  readonly caller: Principal;
  readonly now: string;
  readonly seal: Pick<Seal, 'canonical' | 'sha256Hex'>;
}

export function deskHoldView(hold: HoldRecord, { caller, now, seal }: DeskEye): DeskHoldView {
  const { assignee, dueAt } = hold;
  const signing = caller.via === 'key' ? KEYS_SIGN_NOTHING : undefined;
  return {
    ...holdView(hold),
    ...{ assignee, dueAt, overdue: isOverdue(hold, now), ageHours: ageHours(hold, now) },
    graveness: gravenessOf(hold.reason),
    decisions: fittingDecisions(hold.subject),
    actions: [
      deskAction('dispose', refuseDisposition(hold, caller) ?? signing),
      deskAction('release', refuseRelease(hold, caller) ?? signing),
      deskAction('comment', refuseComment(hold, caller)),
      deskAction('assign', refuseAssignment(hold, caller)),
    ],
    version: holdVersion(seal, hold),
  };
}

const KEYS_SIGN_NOTHING: DeskRefusal = {
  refused: 'signature-required',
  detail: 'Only people sign: have somebody sign in with name and password and do it.',
};

function deskAction(action: DeskAction['action'], refusal: DeskRefusal | undefined): DeskAction {
  return { action, allowed: refusal === undefined, why: refusal?.detail ?? null };
}

function ageHours({ state, raisedAt, release }: HoldRecord, now: string): number | null {
  if (state === 'withdrawn') return null;
  const hours = (Date.parse(release?.at ?? now) - Date.parse(raisedAt)) / 3_600_000;
  return Math.max(0, Math.round(hours * 100) / 100);
}
