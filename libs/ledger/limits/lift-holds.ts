import { holdKey } from '../../domain/holds/cause.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { Subject } from '../../domain/subject/subject.js';
import { BookEffect, holdEffect } from '../fold/book-effect.js';
import { HoldRecord } from '../holds/hold-record.js';

/** Takes open holds back whose causes are lifted; those that a person has worked on stay and say so. */
export function liftHolds(
  holds: readonly HoldRecord[],
  lifted: readonly { readonly reason: HoldReason; readonly subject: Subject }[],
): HoldRecord[] {
  const keys = new Set(lifted.map(holdKey));
  return holds.flatMap((hold): HoldRecord[] => {
    if (hold.state !== 'open' || hold.causeGone || !keys.has(holdKey(hold))) return [];
    return [hold.touched ? { ...hold, causeGone: true } : { ...hold, state: 'withdrawn' }];
  });
}

export function liftedEffect(hold: HoldRecord): BookEffect {
  return holdEffect(hold.state === 'withdrawn' ? 'hold-withdrawn' : 'hold-cause-gone', hold);
}
