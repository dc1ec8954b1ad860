import { BookDeps } from '../fold/book-deps.js';
import { BOOK_ENTRY_TYPES } from '../fold/book-effect.js';
import { tryAgain } from '../fold/try-again.js';
import { BookTransaction } from '../ports/book-store.js';
import { ClearanceRecord, clearanceState } from './clearance-record.js';
import { BookWork, settleSubject } from './settle-subject.js';
import { writeClearanceEntry } from './write-clearance-entry.js';

const BATCH = 100;
/** Answers are kept for two days: longer than any clearance runs. */
const ANSWERS_KEPT_MS = 2 * 24 * 3600 * 1000;

/**
 * Writes the lapse of every clearance whose time is over by `now` (RFC 3339), once each, into the ledger it belongs to:
 * late as well, where no worker was up at that moment. Nothing is judged by it, only told.
 * @returns how many lapses were written.
 */
export async function lapseClearances(
  deps: BookDeps,
  now: string,
  stopped: () => boolean = () => false,
): Promise<number> {
  let lapsed = 0;
  for (let found = BATCH; found === BATCH;) {
    const due = await deps.store.clearancesOver(now, BATCH);
    let written = 0;
    for (const clearance of due) {
      if (stopped()) return lapsed + written;
      if (await lapse(deps, clearance, now)) written += 1;
    }
    lapsed += written;
    // Where nothing could be written, the next look would find the same.
    found = written === 0 ? 0 : due.length;
  }
  await deps.store.forgetAnswers(new Date(Date.parse(now) - ANSWERS_KEPT_MS).toISOString());
  return lapsed;
}

async function lapse(deps: BookDeps, due: Pick<ClearanceRecord, 'id' | 'subject'>, now: string): Promise<boolean> {
  return tryAgain((whole) => {
    const work = (tx: BookTransaction): Promise<boolean> => lapseInside({ deps, tx, whole }, due, now);
    return whole ? deps.store.exclusively(work) : deps.store.besideFolds(work);
  });
}

async function lapseInside(
  work: BookWork,
  { id, subject }: Pick<ClearanceRecord, 'id' | 'subject'>,
  now: string,
): Promise<boolean> {
  // An event that used its last step may still be waiting.
  const record = await settleSubject(work, subject);
  const [clearance] = await work.tx.clearances([id]);
  if (clearance === undefined || clearance.lapsedAt !== null) return false;
  if (clearanceState(clearance, now) !== 'lapsed') return false;
  const unused = clearance.steps.flatMap(({ use }, step) => (use === null ? [step] : []));
  await writeClearanceEntry(
    work,
    record,
    { ...clearance, lapsedAt: now },
    {
      ...{ type: BOOK_ENTRY_TYPES.clearanceLapsed, time: clearance.expiresAt, recordedAt: now },
      data: { clearance: id, unused },
      effect: { kind: 'clearance-lapsed', clearance: id },
    },
  );
  return true;
}
