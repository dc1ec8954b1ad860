import { Cause } from '../../domain/holds/cause.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject, isSubject } from '../../domain/holds/hold-subject.js';
import { BOOK_ENTRY_TYPES, BookEffect } from '../../ledger/fold/book-effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { EpcisStatement } from './epcis-event.js';
import { HouseUris } from './house-uris.js';
import { inOwnTerms } from './own-terms.js';

interface HoldTold {
  readonly act: 'called' | 'raised' | 'disposed' | 'released' | 'withdrawn' | 'cause-gone';
  readonly reason: HoldReason;
  readonly subject: HoldSubject;
  readonly hold?: string;
  readonly more: object;
}

/**
 * What an entry did to holds: rules called for one, a person raised, decided about or released one, later facts withdrew
 * one. Only calling and raising say that the thing cannot go on; another hold may stand when one is released.
 */
export function holdStatements(entry: SealedEntry, uris: HouseUris): readonly EpcisStatement[] {
  // The unit's own entry of the same event tells it: a receiver must not count one hold twice.
  if (entry.type === BOOK_ENTRY_TYPES.deviceMoved) return [];
  return (entry.effects as BookEffect[]).flatMap((effect) => {
    const told = holdOf(effect, entry);
    if (told === undefined || !isSubject(told.subject)) return [];
    const { act, hold, reason, subject, more } = told;
    const stops = act === 'called' || act === 'raised';
    const statement: EpcisStatement = {
      facts: {
        type: 'ObjectEvent',
        ...{ action: 'OBSERVE', bizStep: 'holding', ...(stops && { disposition: 'non_sellable_other' }) },
        epcList: [uris.ofSubject(subject)],
      },
      stays: true,
      own: { 'heatbook:hold': inOwnTerms({ act, id: hold, reason, subject, ...more }) },
    };
    return [statement];
  });
}

function holdOf(effect: BookEffect, entry: SealedEntry): HoldTold | undefined {
  switch (effect.kind) {
    case 'hold-called':
      return called(effect.cause);
    case 'hold-raised':
      return { ...effect, act: 'raised', more: signedWith(entry) };
    case 'hold-disposed':
      return { ...effect, act: 'disposed', more: { decision: effect.decision, ...signedWith(entry) } };
    case 'hold-released':
      return { ...effect, act: 'released', more: signedWith(entry) };
    case 'hold-withdrawn':
      return { ...effect, act: 'withdrawn', more: {} };
    case 'hold-cause-gone':
      return { ...effect, act: 'cause-gone', more: {} };
    default:
      return undefined;
  }
}

function called({ reason, subject, evidence, remedy }: Cause): HoldTold {
  const { summary, used, allowed, unit, limit } = evidence;
  return { act: 'called', reason, subject, more: { summary, used, allowed, unit, limit, remedy } };
}

/** Note and signature of a person's act. What stands under the signature is in the entry, which has its hash. */
function signedWith({ data }: SealedEntry): object {
  const { note, signature } = data as {
    readonly note?: string;
    readonly signature?: {
      readonly by: string;
      readonly at: string;
      readonly meaning: string;
      readonly contentHash: string;
    };
  };
  if (signature === undefined) return { note };
  const { by, at, meaning, contentHash } = signature;
  return { note, signature: { by, at, meaning, contentHash } };
}
