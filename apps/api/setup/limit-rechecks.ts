import { orderTime } from '../../../libs/domain/events/event-order.js';
import { LimitRecheck, newRecheck } from '../../../libs/ledger/limits/limit-recheck.js';
import { HOUSE } from '../../../libs/ledger/setup/house-setup.js';
import { SetupRecord } from './setup-desk.js';

/** How far what is in the house has been judged anew for a revision of a limit, as routes answer it. */
export type RecheckBody = Omit<LimitRecheck, 'phase' | 'after' | 'version'>;

/** A revision of a limit with what became of judging anew for it. */
export type LimitRecord = SetupRecord & { readonly recheck: RecheckBody };

export function recheckBody(recheck: LimitRecheck): RecheckBody {
  const { limit, revision, effectiveAt, state, why, subjects } = recheck;
  const { holdsRaised, holdsWithdrawn, holdsMarked, warnings, startedAt, finishedAt } = recheck;
  return {
    ...{ limit, revision, effectiveAt, state, why, subjects },
    ...{ holdsRaised, holdsWithdrawn, holdsMarked, warnings, startedAt, finishedAt },
  };
}

/** @param rechecks those of the limit, or of every limit; a revision that is in none of them has just been entered. */
export function withRecheck(record: SetupRecord, rechecks: readonly LimitRecheck[]): LimitRecord {
  const { name, revision, at, by } = record;
  const known = rechecks.find((one) => one.limit === name && one.revision === revision);
  if (known !== undefined) return { ...record, recheck: recheckBody(known) };
  const from = 'effectiveFrom' in record ? record.effectiveFrom : at;
  const waiting = newRecheck(name, revision, orderTime(from) > orderTime(at) ? from : at);
  const house = { state: 'none', why: 'A new book begins with it, so everything has been judged by it.' } as const;
  return { ...record, recheck: recheckBody(by === HOUSE ? { ...waiting, ...house } : waiting) };
}
