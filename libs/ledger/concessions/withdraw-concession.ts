import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { ConcessionData } from '../../domain/setup/setup-data.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { DeskRefusal } from '../holds/desk-refusal.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';
import { concessionById, ConcessionRecord } from './concession-record.js';
import { notApprover } from './sign-concession.js';
import { writeConcession } from './write-concession.js';

export interface WithdrawConcession {
  readonly id: string;
  readonly note: string;
  readonly signer: Signer;
}

/** Ends a concession: what is judged from now on is judged by the limit again. What was judged under it stays. */
export async function withdrawConcession(
  deps: BookDeps,
  { id, note, signer }: WithdrawConcession,
): Promise<ConcessionRecord | DeskRefusal> {
  const refusal = notApprover(signer);
  if (refusal !== undefined) return refusal;
  const ended = await deps.store.exclusively(async (tx): Promise<ConcessionRecord | DeskRefusal> => {
    await deps.setup.reach(await tx.setupVersion());
    const known = concessionById(deps.setup, id);
    if (known === undefined) {
      return { refused: 'not-found', detail: `There is no concession ${id}; GET /v1/concessions lists them.` };
    }
    const { signedBy, withdrawal, subject, limit, allowed, from, customerReference } = known;
    if (withdrawal !== null) {
      const detail = `${withdrawal.by} withdrew concession ${id} at ${withdrawal.at}; sign another one if it is wanted again.`;
      return { refused: 'concession-ended', detail };
    }
    const at = deps.clock.now();
    const [record] = await tx.load([streamOfHold(subject)]);
    if (record === undefined) throw new Error(`no record of ${streamOfHold(subject)}`);
    const body: ConcessionData = { subject, limit, allowed, from, customerReference, withdrawn: true };
    const content = { act: 'withdraw-concession', concession: id, subject, limit, allowed, customerReference, note };
    const { signed, signature } = signAct(deps.seal, signer, at, content);
    await writeConcession(deps, tx, record, {
      id,
      body,
      type: BOOK_ENTRY_TYPES.concessionWithdrawn,
      by: signer.name,
      at,
      data: { note, signed, signature },
      effect: { kind: 'concession-withdrawn', concession: id, subject, limit },
    });
    return { id, ...body, signedBy, withdrawal: { by: signer.name, at } };
  });
  await deps.setup.catchUp();
  return ended;
}
