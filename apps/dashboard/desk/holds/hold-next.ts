import { decisionWords } from '../words/words.js';
import { actionOf, type ExplainedHold, inForce, waitsForItsEvent } from './hold-shape.js';

/** Whose turn it is with a hold. */
export interface NextStep {
  /** Nobody, a role, or a role without certain people. */
  readonly who: string;
  /** What they do: `decides what becomes of it`. */
  readonly does: string;
  /** Whoever looks can do it. */
  readonly mine: boolean;
}

/** Who acts next on a hold, and how. */
export function nextStep(hold: ExplainedHold): NextStep {
  if (hold.state !== 'open') return closed(hold);
  if (waitsForItsEvent(hold)) {
    return {
      who: 'Whoever keeps the setup',
      does: 'enters what the event refers to; then quality or an admin tries it again. The hold ends with that.',
      mine: false,
    };
  }
  if (inForce(hold) !== undefined || hold.causeGone) return toRelease(hold);
  const mine = actionOf(hold, 'dispose')?.allowed === true;
  return { who: 'Quality or an approver', does: 'decides what becomes of it', mine };
}

function closed({ state, release }: ExplainedHold): NextStep {
  if (state === 'withdrawn' || release === null) {
    return { who: 'Nobody', does: 'the book took it back: what was told later left it without a cause.', mine: false };
  }
  return { who: 'Nobody', does: `${release.by} released it: work may go on.`, mine: false };
}

function toRelease(hold: ExplainedHold): NextStep {
  const who = needsApprover(hold) ? 'An approver' : 'Quality or an approver';
  const not = barred(hold);
  const decided = inForce(hold);
  const does = decided === undefined ? 'releases it, since its cause is gone' : 'signs the release';
  return {
    who: not.length === 0 ? who : `${who} other than ${not.join(' and ')}`,
    does: decided === undefined ? does : `${does} (decided: ${decisionWords(decided.decision).toLowerCase()})`,
    mine: actionOf(hold, 'release')?.allowed === true,
  };
}

/** Use as is takes an approver among its two signers. */
function needsApprover(hold: ExplainedHold): boolean {
  const decided = inForce(hold);
  return decided?.decision === 'use-as-is' && !decided.approved;
}

/** Who had a hand in it already, and so cannot be the second person. */
function barred(hold: ExplainedHold): readonly string[] {
  const names = [inForce(hold)?.signature.by, hold.raisedBy ?? undefined].filter((name) => name !== undefined);
  return [...new Set(names)];
}

interface Candidate {
  readonly name: string;
  readonly roles: readonly string[];
}

/** Who of these people could release it as it stands. */
export function releasers<Person extends Candidate>(hold: ExplainedHold, people: readonly Person[]): readonly Person[] {
  const wanted = needsApprover(hold) ? ['approver'] : ['quality', 'approver'];
  const not = barred(hold);
  return people.filter(({ name, roles }) => !not.includes(name) && roles.some((role) => wanted.includes(role)));
}

/** Why an action cannot be done now, in words for a page; the API's own words where it knows more. */
export function whyNot(hold: ExplainedHold, action: 'dispose' | 'release' | 'assign' | 'comment'): string | null {
  const found = actionOf(hold, action);
  if (found === undefined || found.allowed) return null;
  if (hold.state !== 'open' && action !== 'comment')
    return 'The hold is closed. If something is wrong again, raise one by hand.';
  if (waitsForItsEvent(hold) && action !== 'comment' && action !== 'assign') {
    return 'It ends when its event is judged: try the event again once what it refers to is there, or strike it where it was never right.';
  }
  if (action === 'release' && inForce(hold) === undefined && !hold.causeGone) {
    return 'Nothing is decided yet. Once somebody has, another person releases it.';
  }
  return found.why;
}

const REFUSED = ['dispose', 'release', 'assign'] as const;

/** What cannot be done now by whoever looks, by the reason why not: several acts may share one. */
export function refusalsOf(hold: ExplainedHold): ReadonlyMap<string, readonly (typeof REFUSED)[number][]> {
  const refusals = new Map<string, (typeof REFUSED)[number][]>();
  for (const action of REFUSED) {
    const why = whyNot(hold, action);
    if (why !== null) refusals.set(why, [...(refusals.get(why) ?? []), action]);
  }
  return refusals;
}
