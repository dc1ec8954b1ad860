import type { Heat } from '../../../../libs/domain/events/heat.js';
import type { StationEvent } from '../../../../libs/domain/events/station-event.js';
import type { BookEffect } from '../../../../libs/ledger/fold/book-effect.js';
import type { Schemas } from '../api/client.js';

export type Entry = Schemas['Entry'];

/** What of an entry is needed to say in words what it tells. */
export type EntryLike = Pick<Entry, 'type' | 'event' | 'data' | 'effects'>;

/** What a station said, by its type. */
export type Step = StationEvent extends infer Event
  ? Event extends StationEvent
    ? Pick<Event, 'type' | 'data'>
    : never
  : never;

/** What an entry judges of one subject and one limit. */
export type Verdict = Extract<BookEffect, { kind: 'counted' | 'clear' | 'possible' }>;

export const ANNULLED = 'heatbook.entry.annulled.v1';
export const REJUDGED = 'heatbook.entry.rejudged.v1';
export const MOVED = 'heatbook.device.moved.v1';

/** The station's word in an entry; undefined where the book wrote by itself or for a person. */
export function stepOf({ type, event, data }: EntryLike): Step | undefined {
  if (event === null || [ANNULLED, REJUDGED, MOVED].includes(type)) return undefined;
  // The book checked what the station said against its type before it wrote the entry.
  return { type, data } as Step;
}

/** What an entry did, in its order. */
export function effectsOf({ effects }: Pick<Entry, 'effects'>): readonly BookEffect[] {
  return effects as readonly BookEffect[];
}

/** What an effect judges, where it judges something. */
export function isVerdict(effect: BookEffect): effect is Verdict {
  return effect.kind === 'counted' || effect.kind === 'clear' || effect.kind === 'possible';
}

/** The heat that an entry tells of; undefined where it tells of none, or has no thermocouples to it. */
export function heatOf(entry: EntryLike): Heat | undefined {
  const heat = memberIn(entry.data, 'heat');
  return Array.isArray(memberIn(heat, 'thermocouples')) ? (heat as Heat) : undefined;
}

/** A member of what may be an object. */
export function memberIn(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>)[name] : undefined;
}

/** A text that is a member of what may be an object. */
export function textIn(value: unknown, name: string): string | undefined {
  const text = memberIn(value, name);
  return typeof text === 'string' ? text : undefined;
}

/** By which later entries name the event of this one; undefined where it has none. */
export function eventKeyOf(event: unknown): string | undefined {
  const [source, id] = [textIn(event, 'source'), textIn(event, 'id')];
  return source === undefined || id === undefined ? undefined : `${source} ${id}`;
}
