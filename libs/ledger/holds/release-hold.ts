import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES, holdEffect } from '../fold/book-effect.js';
import { Signer } from '../signing/signature.js';
import { signAct } from '../signing/sign-act.js';
import { DeskRefusal } from './desk-refusal.js';
import { refuseRelease } from './desk-rules.js';
import { HoldRecord, HoldRelease } from './hold-record.js';
import { HoldWish, WorkedHold, workOnHold } from './work-on-hold.js';

export interface ReleaseHold extends HoldWish {
  readonly signer: Signer;
  /** What was done and found. */
  readonly note: string;
}

/** Releases an open hold under the disposition in force, with its entry in the ledger, in one commit. */
export async function releaseHold(deps: BookDeps, wish: ReleaseHold): Promise<HoldRecord | DeskRefusal> {
  return workOnHold(deps, wish, (hold, at) => released(deps, hold, wish, at));
}

function released(
  { seal }: BookDeps,
  hold: HoldRecord,
  { note, signer }: ReleaseHold,
  at: string,
): WorkedHold | DeskRefusal {
  const refusal = refuseRelease(hold, signer);
  if (refusal !== undefined) return refusal;
  const { reason, subject } = hold;
  const disposition = hold.dispositions.at(-1);
  const approved = signer.roles.includes('approver');
  const content = {
    act: 'release',
    hold: hold.id,
    reason,
    subject,
    disposition: disposition?.id ?? null,
    decision: disposition?.decision ?? null,
    approved,
    note,
  };
  const { signed, signature } = signAct(seal, signer, at, content);
  const by = signer.name;
  const release: HoldRelease = { by, at, note, signature, approved, withoutCause: disposition === undefined };
  return {
    hold: { ...hold, state: 'released', touched: true, release },
    entry: {
      type: BOOK_ENTRY_TYPES.holdReleased,
      by,
      at,
      data: { note, signed, signature },
      effect: holdEffect('hold-released', hold),
    },
  };
}
