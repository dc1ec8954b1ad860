import { Effect } from '../../domain/book/effect.js';
import { Cause, causeKey } from '../../domain/holds/cause.js';
import { recheckOrder } from '../../domain/limits/recheck-mark.js';
import { parseStream } from '../../domain/subject/subject.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { Sum } from './add-up.js';

/** A cause that calls for a hold, with what its hold may say of it where that can be worked out. */
export interface StandingCause {
  readonly reason: HoldReason;
  readonly subject: HoldSubject;
  readonly event: { readonly source: string; readonly id: string };
  readonly said: readonly Pick<Cause, 'evidence' | 'remedy'>[];
}

/** Source of the causes that are rechecks of a limit. */
const RECHECKS = recheckOrder({ limit: '', revision: 0, at: '' }).source;

/** Causes that stand, by key: those that events called for, and shipments that were clean only as far as was known. */
export function standingCauses({ causes, facts }: Sum): ReadonlyMap<string, StandingCause> {
  const standing = new Map<string, StandingCause>();
  for (const [key, said] of causes) {
    const { reason, subject, event } = said[0];
    // The figures of a recheck may be newer than what its entry tells of it.
    standing.set(key, { reason, subject, event, said: event.source === RECHECKS ? [] : said });
  }
  for (const { event, first, current } of facts) {
    const before = shipmentOf(first);
    const after = shipmentOf(current);
    const subject = parseStream(event.subject);
    const cleanBefore = before?.complete === true && before.open.length === 0;
    if (!cleanBefore || after === undefined || after.open.length === 0 || subject?.kind !== 'unit') continue;
    const late: StandingCause = { reason: 'late-event', subject, event: event.order, said: [] };
    standing.set(causeKey(late), late);
  }
  return standing;
}

function shipmentOf(effects: readonly Effect[]): Extract<Effect, { kind: 'shipment' }> | undefined {
  return effects.find((effect) => effect.kind === 'shipment');
}
