import { Principal, Role } from '../identity/principal.js';
import { DeskRefusal } from './desk-refusal.js';
import { decisionOn, HoldRecord } from './hold-record.js';

/** Bounds on what one hold can gather, so that it can always be read whole. */
export const MOST_DISPOSITIONS = 50;
export const MOST_COMMENTS = 500;

const SIGNING_ROLES = ['quality', 'approver'] as const satisfies readonly Role[];
const ASSIGNING_ROLES = ['quality', 'approver', 'admin'] as const satisfies readonly Role[];
const COMMENTING_ROLES = ['operator', ...ASSIGNING_ROLES] as const satisfies readonly Role[];

export type DeskPerson = Pick<Principal, 'name' | 'roles'>;

/** Why nobody, or not this person, may dispose of a hold now. */
export function refuseDisposition(hold: HoldRecord, person: DeskPerson): DeskRefusal | undefined {
  const { state, dispositions } = hold;
  if (state !== 'open') return notOpen(hold);
  if (dispositions.length >= MOST_DISPOSITIONS) {
    return {
      refused: 'hold-full',
      detail: `The hold has ${String(MOST_DISPOSITIONS)} dispositions, which is as many as it takes. Release it under the last one, or raise a hold by hand for what is still to be decided.`,
    };
  }
  return parked(hold) ?? notAmong(SIGNING_ROLES, person);
}

/** Why a hold cannot be released now, or not by this person. The database holds the same as a constraint. */
export function refuseRelease(hold: HoldRecord, person: DeskPerson): DeskRefusal | undefined {
  if (hold.state !== 'open') return notOpen(hold);
  const waiting = parked(hold);
  if (waiting !== undefined) return waiting;
  const disposition = hold.dispositions.at(-1);
  if (disposition === undefined && !hold.causeGone) {
    return {
      refused: 'disposition-needed',
      detail: 'Nothing is decided yet. POST a disposition first; then somebody else than who signed it can release.',
    };
  }
  const outsider = notAmong(SIGNING_ROLES, person);
  if (outsider !== undefined) return outsider;
  if (person.name === hold.raisedBy) {
    return {
      refused: 'two-people-needed',
      detail: `${person.name} raised this hold by hand, so somebody else with role quality or approver has to release it.`,
    };
  }
  if (person.name === disposition?.signature.by) {
    return {
      refused: 'two-people-needed',
      detail: `${person.name} signed the disposition in force, so somebody else with role quality or approver has to release it.`,
    };
  }
  const approved = disposition?.approved === true || person.roles.includes('approver');
  if (decisionOn(hold) !== 'use-as-is' || approved) return undefined;
  return {
    refused: 'approver-needed',
    detail:
      'Use as is takes an approver among its two signers. Have an approver release it, or have one sign the disposition again and then release it.',
  };
}

/** Why a hold cannot be given to somebody now. */
export function refuseAssignment(hold: HoldRecord, person: DeskPerson): DeskRefusal | undefined {
  return hold.state === 'open' ? notAmong(ASSIGNING_ROLES, person) : notOpen(hold);
}

/** Why no comment can be added: to a closed hold one may be, since what was learnt belongs to it. */
export function refuseComment(hold: HoldRecord, person: DeskPerson): DeskRefusal | undefined {
  if (hold.comments.length < MOST_COMMENTS) return notAmong(COMMENTING_ROLES, person);
  return {
    refused: 'hold-full',
    detail: `The hold has ${String(MOST_COMMENTS)} comments, which is as many as it takes. Decide what it is about; the note of a disposition can say more.`,
  };
}

/** Whatever was decided, the event would still wait to be judged, and nothing would say so any more. */
function parked({ reason, causeGone }: HoldRecord): DeskRefusal | undefined {
  if (reason !== 'event-parked' || causeGone) return undefined;
  return {
    refused: 'event-still-parked',
    detail:
      'The hold ends when its event is judged: mend what the event refers to and retry it, or annul the event (POST /v1/annulments) where it was never right.',
  };
}

function notOpen({ id, state }: HoldRecord): DeskRefusal {
  return {
    refused: 'hold-not-open',
    detail: `Hold ${id} is ${state} already; GET it to see how that came. If something is wrong again, raise a hold by hand.`,
  };
}

function notAmong(roles: readonly Role[], person: DeskPerson): DeskRefusal | undefined {
  if (person.roles.some((role) => roles.includes(role))) return undefined;
  const wanted = roles.join(' or ');
  return { refused: 'not-allowed', detail: `This is for ${wanted}; ask somebody who has one of these roles.` };
}
