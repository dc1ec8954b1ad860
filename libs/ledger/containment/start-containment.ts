import { BookDeps } from '../fold/book-deps.js';
import { signAct } from '../signing/sign-act.js';
import { Signer } from '../signing/signature.js';
import { ContainmentStore } from '../ports/containment-store.js';
import { ContainmentRecord, ContainmentRound } from './containment-record.js';
import { Suspicion } from './suspect-cause.js';

export interface ContainmentWish extends Suspicion {
  readonly holdCause: boolean;
  readonly note: string;
  readonly signer: Signer;
}

type StartDeps = Pick<BookDeps, 'clock' | 'newId' | 'seal'> & { readonly containments: ContainmentStore };

/** Puts a signed containment on record; whoever runs containments carries it out. */
export async function startContainment(deps: StartDeps, wish: ContainmentWish): Promise<ContainmentRecord> {
  const at = deps.clock.now();
  const { cause, from, to, holdCause } = wish;
  const id = deps.newId();
  const record: ContainmentRecord = {
    id,
    cause,
    from,
    to,
    holdCause,
    causeHolds: [],
    state: 'finding',
    rounds: [roundOf(deps, { id, cause, from, to, holdCause }, wish, at)],
    found: null,
    held: 0,
    attempts: 0,
    failure: null,
    requestedAt: at,
    seenAt: at,
    finishedAt: null,
  };
  await deps.containments.add(record);
  return record;
}

/** Puts another signed round on record, for what came to light since the last one or for one that failed. */
export async function repeatContainment(
  deps: StartDeps,
  wish: { readonly id: string; readonly note: string; readonly signer: Signer },
): Promise<ContainmentRecord | 'not-found' | 'busy'> {
  const known = await deps.containments.get(wish.id);
  if (known === undefined) return 'not-found';
  const at = deps.clock.now();
  return deps.containments.again(wish.id, roundOf(deps, known, wish, at), at);
}

function roundOf(
  { seal }: Pick<BookDeps, 'seal'>,
  { id, cause, from, to, holdCause }: Pick<ContainmentRecord, 'id' | 'cause' | 'from' | 'to' | 'holdCause'>,
  { note, signer }: { readonly note: string; readonly signer: Signer },
  at: string,
): ContainmentRound {
  const content = { act: 'contain', containment: id, cause, from, to, holdCause, note };
  return { note, ...signAct(seal, signer, at, content), held: null };
}
