import { refKey } from '../../domain/events/event-order.js';
import { EVENT_SUBJECTS, StationEvent, StationEventType } from '../../domain/events/station-event.js';
import { Heat, ProfileRef } from '../../domain/events/heat.js';
import { memberOf } from '../../ledger/audits/member-of.js';
import { BookEffect } from '../../ledger/fold/book-effect.js';
import { SealedEntry } from '../../ledger/ports/seal.js';

/** What a station said, by its type. */
export type StationFact = {
  [T in StationEventType]: Pick<Extract<StationEvent, { type: T }>, 'type' | 'data'>;
}[StationEventType];

/** The station's word behind an entry; undefined where the book wrote by itself or for a person. */
export function factOf({ type, data, event }: SealedEntry): StationFact | undefined {
  // The book wrote the entry from an event that had been checked, so its data fits its type.
  return event !== null && Object.hasOwn(EVENT_SUBJECTS, type) ? ({ type, data } as StationFact) : undefined;
}

export function effectsOf({ effects }: SealedEntry): readonly BookEffect[] {
  return effects as readonly BookEffect[];
}

/** By which later entries name the event of this one. */
export function eventKey({ event }: SealedEntry): string | undefined {
  return event === null ? undefined : refKey(event);
}

/** Name of the station that told an entry. */
export function stationOf({ event }: SealedEntry): string | undefined {
  return event?.source.split('/')[2];
}

export function heatOf(fact: StationFact): Heat | undefined {
  return 'heat' in fact.data ? fact.data.heat : undefined;
}

export function profileOf(fact: StationFact): ProfileRef | undefined {
  return 'profile' in fact.data ? fact.data.profile : undefined;
}

/** What an entry judges of one subject and one limit. */
export type Verdict = Extract<BookEffect, { kind: 'counted' | 'clear' | 'possible' }>;

export function isVerdict(effect: BookEffect): effect is Verdict {
  return effect.kind === 'counted' || effect.kind === 'clear' || effect.kind === 'possible';
}

/** Whether a step brought heat to a joint: somebody measured or told one, or an excursion was judged of it. */
export function isHeat(fact: StationFact, effects: readonly BookEffect[]): boolean {
  return (
    heatOf(fact) !== undefined || effects.some((effect) => isVerdict(effect) && effect.limit.endsWith('excursions'))
  );
}

/** A member of an entry's data or actor, where it is a text. */
export function textIn(value: unknown, member: string): string | undefined {
  const found = memberOf(value, member);
  return typeof found === 'string' ? found : undefined;
}

/** Who did what an entry tells: `station HG-2, operator op-101`, `person ann` or `the book`. */
export function actorWords({ actor }: SealedEntry): string {
  const [station, operator, person] = [textIn(actor, 'station'), textIn(actor, 'operator'), textIn(actor, 'name')];
  if (station !== undefined)
    return operator === undefined ? `station ${station}` : `station ${station}, operator ${operator}`;
  return person === undefined ? 'the book' : `account ${person}`;
}
