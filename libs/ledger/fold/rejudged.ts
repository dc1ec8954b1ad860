import { Effect } from '../../domain/book/effect.js';
import { EventRef, orderTime, refKey } from '../../domain/events/event-order.js';
import {
  EVENT_SUBJECTS,
  STATION_EVENT_TYPES,
  StationEvent,
  StationEventType,
} from '../../domain/events/station-event.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { SealedEntry } from '../ports/seal.js';
import { BOOK_ENTRY_TYPES } from './book-effect.js';

/** What an event does now, where later arrivals changed the judgement of it. */
export interface Rejudgement {
  readonly event: EventRef;
  readonly effects: readonly Effect[];
}

/** A fact that stands in a ledger, with what was judged of it at first and what is judged of it now. */
export interface Fact {
  readonly event: StationEvent;
  readonly rules: number;
  readonly first: readonly Effect[];
  readonly current: readonly Effect[];
  /** Annulled: it stays in its ledger, and nothing follows from it any more. */
  readonly struck: boolean;
}

/** What ledgers tell, taken apart: the facts, and what they say of devices that units moved. */
export interface ReadLedgers {
  readonly facts: readonly Fact[];
  /** Effects by ledger and event, of the entries that tell of moves. */
  readonly moves: ReadonlyMap<string, readonly Effect[]>;
}

export function moveKey(ledger: StreamKey, event: EventRef): string {
  return `${ledger} ${refKey(event)}`;
}

/** Reads the entries of ledgers, in order of sequence within each, as the book's own earlier judgement. */
export function readLedgers(entries: readonly SealedEntry[]): ReadLedgers {
  const facts = new Map<string, Fact>();
  const moves = new Map<string, readonly Effect[]>();
  const struck = new Set<string>();
  for (const entry of entries) {
    if (entry.type === BOOK_ENTRY_TYPES.rejudged) {
      for (const { event, effects } of changesOf(entry)) {
        const key = moveKey(entry.subject, event);
        const fact = facts.get(key);
        if (fact !== undefined) facts.set(key, { ...fact, current: effects });
        else if (moves.has(key)) moves.set(key, effects);
      }
    } else if (entry.event !== null && entry.type === BOOK_ENTRY_TYPES.annulled) {
      struck.add(moveKey(entry.subject, entry.event));
    } else if (entry.event !== null && entry.type === BOOK_ENTRY_TYPES.deviceMoved) {
      moves.set(moveKey(entry.subject, entry.event), effectsOf(entry));
    } else if (entry.event !== null) {
      const event = eventOf(entry, entry.event);
      const effects = effectsOf(entry);
      if (event !== undefined) {
        const key = moveKey(entry.subject, entry.event);
        facts.set(key, { event, rules: entry.rules, first: effects, current: effects, struck: false });
      }
    }
  }
  return { facts: [...facts].map(([key, fact]) => ({ ...fact, struck: struck.has(key) })), moves };
}

/** The entry's own effects, without what the book added about holds. */
function effectsOf(entry: SealedEntry): readonly Effect[] {
  return (entry.effects as Effect[]).filter(({ kind }) => !BOOK_KINDS.has(kind));
}

const BOOK_KINDS: ReadonlySet<string> = new Set(['hold-raised', 'hold-released', 'hold-withdrawn', 'hold-cause-gone']);

function changesOf(entry: SealedEntry): readonly Rejudgement[] {
  return (entry.data as { changes: readonly Rejudgement[] }).changes;
}

function eventOf(entry: SealedEntry, ref: EventRef): StationEvent | undefined {
  const type = STATION_EVENT_TYPES.find((known) => known === entry.type);
  const stream = parseStream(entry.subject);
  if (type === undefined || stream === undefined || !EVENT_SUBJECTS[type].includes(stream.kind)) return undefined;
  return asEvent(type, entry, ref);
}

/** The book wrote the entry from an event that had been checked, so its data fits its type. */
function asEvent(type: StationEventType, entry: SealedEntry, ref: EventRef): StationEvent {
  const order = { at: orderTime(entry.time), ...ref };
  const station = ref.source.slice('/stations/'.length);
  return { type, subject: entry.subject, station, order, time: entry.time, data: entry.data } as StationEvent;
}
