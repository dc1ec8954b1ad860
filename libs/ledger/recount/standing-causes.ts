import { Effect } from '../../domain/book/effect.js';
import { Cause, causeKey } from '../../domain/holds/cause.js';
import { parseStream } from '../../domain/subject/subject.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { Sum } from './add-up.js';

/** A cause that calls for a hold, with what its hold must say of it where that can be worked out. */
export interface StandingCause {
  readonly reason: HoldReason;
  readonly subject: HoldSubject;
  readonly event: { readonly source: string; readonly id: string };
  readonly said?: Pick<Cause, 'evidence' | 'remedy'>;
}

/** Causes that stand, by key: those that events called for, and shipments that were clean only as far as was known. */
export function standingCauses({ causes, facts }: Sum): ReadonlyMap<string, StandingCause> {
  const standing = new Map<string, StandingCause>();
  for (const [key, cause] of causes) standing.set(key, { ...cause, said: cause });
  for (const { event, first, current } of facts) {
    const before = shipmentOf(first);
    const after = shipmentOf(current);
    const subject = parseStream(event.subject);
    const cleanBefore = before?.complete === true && before.open.length === 0;
    if (!cleanBefore || after === undefined || after.open.length === 0 || subject?.kind !== 'unit') continue;
    const late: StandingCause = { reason: 'late-event', subject, event: event.order };
    standing.set(causeKey(late), late);
  }
  return standing;
}

function shipmentOf(effects: readonly Effect[]): Extract<Effect, { kind: 'shipment' }> | undefined {
  return effects.find((effect) => effect.kind === 'shipment');
}
