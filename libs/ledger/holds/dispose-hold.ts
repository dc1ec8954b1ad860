import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES, holdEffect } from '../fold/book-effect.js';
import { Signer } from '../signing/signature.js';
import { signAct } from '../signing/sign-act.js';
import { DeskRefusal } from './desk-refusal.js';
import { refuseDisposition } from './desk-rules.js';
import { fittingDecisions } from './fitting-decisions.js';
import { Decision, Disposition, HoldRecord } from './hold-record.js';
import { HoldWish, WorkedHold, workOnHold } from './work-on-hold.js';

export interface DisposeHold extends HoldWish {
  readonly decision: Decision;
  /** What was found, and what is to be done. */
  readonly note: string;
  readonly signer: Signer;
}

/** Decides about what is held. The decision is in force at once, in place of an earlier one; the hold stays open. */
export async function disposeHold(deps: BookDeps, wish: DisposeHold): Promise<HoldRecord | DeskRefusal> {
  const id = deps.newId();
  return workOnHold(deps, wish, (hold, at) => disposed(deps, hold, wish, id, at));
}

function disposed(
  { seal }: BookDeps,
  hold: HoldRecord,
  { decision, note, signer }: DisposeHold,
  id: string,
  at: string,
): WorkedHold | DeskRefusal {
  const refusal = refuseDisposition(hold, signer);
  if (refusal !== undefined) return refusal;
  const fitting = fittingDecisions(hold.subject);
  if (!fitting.includes(decision)) {
    return {
      refused: 'decision-unfit',
      detail: `${decision} cannot be decided of a ${hold.subject.kind}; take ${fitting.join(', ')}.`,
    };
  }
  const { reason, subject } = hold;
  const approved = signer.roles.includes('approver');
  const content = { act: 'dispose', disposition: id, hold: hold.id, reason, subject, decision, approved, note };
  const { signed, signature } = signAct(seal, signer, at, content);
  const disposition: Disposition = { id, decision, note, signature, approved };
  return {
    hold: { ...hold, touched: true, dispositions: [...hold.dispositions, disposition] },
    entry: {
      type: BOOK_ENTRY_TYPES.holdDisposed,
      by: signer.name,
      at,
      data: { note, signed, signature },
      effect: { ...holdEffect('hold-disposed', hold), decision },
    },
  };
}
