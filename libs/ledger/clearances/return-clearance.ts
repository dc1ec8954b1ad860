import { StreamKey } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { tryAgain } from '../fold/try-again.js';
import { BookTransaction } from '../ports/book-store.js';
import { ClearanceRecord, clearanceState } from './clearance-record.js';
import { BookWork, settleSubject } from './settle-subject.js';
import { ClearanceActor, writeClearanceEntry } from './write-clearance-entry.js';

export interface ReturnClearance {
  readonly id: string;
  /** What it is for, by its record. */
  readonly subject: StreamKey;
  readonly actor: ClearanceActor;
}

/**
 * Gives a clearance back: its unused steps hold nothing back any more, and nothing that begins from now on is cleared by
 * it. One that was given back or has run out already is answered as it is.
 * @returns `all-used` where no step is left to be given back.
 */
export async function returnClearance(
  deps: BookDeps,
  wish: ReturnClearance,
): Promise<ClearanceRecord | 'not-found' | 'all-used'> {
  return tryAgain((whole) => {
    const work = (tx: BookTransaction): Promise<ClearanceRecord | 'not-found' | 'all-used'> =>
      giveBack({ deps, tx, whole }, wish);
    return whole ? deps.store.exclusively(work) : deps.store.besideFolds(work);
  });
}

async function giveBack(
  work: BookWork,
  { id, subject, actor }: ReturnClearance,
): Promise<ClearanceRecord | 'not-found' | 'all-used'> {
  // What was done before must not be taken for undone.
  const record = await settleSubject(work, subject);
  const [clearance] = await work.tx.clearances([id]);
  if (clearance === undefined) return 'not-found';
  const now = work.deps.clock.now();
  const state = clearanceState(clearance, now);
  if (state === 'used') return 'all-used';
  if (state !== 'granted') return clearance;
  const returned: ClearanceRecord = { ...clearance, returnedAt: now, returnedBy: actor.name };
  await writeClearanceEntry(work, record, returned, {
    ...{ type: BOOK_ENTRY_TYPES.clearanceReturned, time: now, recordedAt: now, actor, data: { clearance: id } },
    effect: { kind: 'clearance-returned', clearance: id },
  });
  return returned;
}
