import { DeskRefusal } from '../holds/desk-refusal.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';
import { LegalHold } from './legal-hold.js';
import { LegalHoldDeps } from './set-legal-hold.js';

export interface LiftLegalHold {
  readonly id: string;
  readonly note: string;
  readonly signer: Signer;
}

/** Lifts a legal hold. It takes two: whoever set it has somebody else lift it. */
export async function liftLegalHold(
  { retention, seal, clock }: Pick<LegalHoldDeps, 'retention' | 'seal' | 'clock'>,
  { id, note, signer }: LiftLegalHold,
): Promise<LegalHold | DeskRefusal> {
  const known = await retention.legalHold(id);
  if (known === undefined) return unknown(id);
  if (known.lift !== null) return lifted(known);
  if (known.signature.by === signer.name) {
    return { refused: 'two-people-needed', detail: 'You set this legal hold; have another approver lift it.' };
  }
  const { scope, reference } = known;
  const content = { act: 'lift-legal-hold', legalHold: id, scope, reference, note };
  const lift = { note, ...signAct(seal, signer, clock.now(), content) };
  const now = await retention.liftLegalHold(id, lift);
  if (now === undefined) return unknown(id);
  // Of two who lift at once, one was first.
  return now.lift?.signature.contentHash === lift.signature.contentHash ? now : lifted(now);
}

function unknown(id: string): DeskRefusal {
  return { refused: 'not-found', detail: `There is no legal hold ${id}; GET /v1/legal-holds lists them.` };
}

function lifted({ id, lift }: LegalHold): DeskRefusal {
  const { by, at } = lift?.signature ?? { by: 'Somebody', at: 'some time' };
  return {
    refused: 'legal-hold-lifted',
    detail: `${by} lifted legal hold ${id} at ${at}; set another one if it is needed.`,
  };
}
