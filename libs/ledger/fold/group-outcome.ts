import { Effect } from '../../domain/book/effect.js';
import { World } from '../../domain/book/state.js';
import { clockEndOf } from '../notices/clock-end-of.js';
import { ParkingReason } from '../../domain/book/apply-event.js';
import { EventRef } from '../../domain/events/event-order.js';
import { StationEvent } from '../../domain/events/station-event.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Cause } from '../../domain/holds/cause.js';
import { deviceKey, parseStream, StreamKey, Subject } from '../../domain/subject/subject.js';
import { HoldRecord } from '../holds/hold-record.js';
import { BookChanges, SubjectRecord, SubjectState } from '../ports/book-store.js';
import { BookEffect, BOOK_ENTRY_TYPES, holdEffect } from './book-effect.js';
import { ChainWriter } from './chain-writer.js';
import { deviceMoves } from './device-moves.js';

/** One event with what it did under which version of the setup. */
export interface JudgedEvent {
  readonly event: StationEvent;
  readonly effects: readonly Effect[];
  readonly rules: number;
}

/** Writes the entry of an event, and one in the ledger of each device that it moved. */
export function writeEventEntries(chain: ChainWriter, judged: JudgedEvent, more: readonly BookEffect[]): void {
  const { event, effects, rules } = judged;
  const ref = { source: event.order.source, id: event.order.id };
  const { operator } = event.data;
  const actor = { kind: 'station', station: event.station, ...(operator !== undefined && { operator }) };
  const entry = chain.append({
    subject: event.subject,
    type: event.type,
    time: event.time,
    event: ref,
    actor,
    data: event.data,
    effects: [...effects, ...more],
    rules,
  });
  for (const [device, own] of movesOf(judged)) {
    chain.append({
      subject: deviceKey(device),
      type: BOOK_ENTRY_TYPES.deviceMoved,
      time: event.time,
      event: ref,
      actor,
      data: { type: event.type, entry: { subject: entry.subject, seq: entry.seq, hash: entry.hash } },
      effects: own,
      rules,
    });
  }
}

/** Moves that an event made, other than those of its own subject. */
export function movesOf({ event, effects }: JudgedEvent): ReadonlyMap<string, readonly Effect[]> {
  return parseStream(event.subject)?.kind === 'unit' ? deviceMoves(effects) : new Map<string, readonly Effect[]>();
}

/** The hold that a parked event calls for. */
export function parkedCause(event: StationEvent, reason: ParkingReason, rules: Rules): Cause | undefined {
  const stream = parseStream(event.subject);
  const subject: Subject | undefined = stream?.kind === 'unit' || stream?.kind === 'device' ? stream : undefined;
  if (subject === undefined) return undefined;
  const customer = stream?.kind === 'unit' ? rules.find('assembly', stream.assembly)?.body.customer : undefined;
  const { operator } = event.data;
  return {
    reason: 'event-parked',
    subject,
    event: event.order,
    ...(stream?.kind === 'unit' && { unit: { assembly: stream.assembly, serial: stream.serial } }),
    ...(customer !== undefined && { customer }),
    station: event.station,
    ...(operator !== undefined && { operator }),
    evidence: { summary: `${event.type} could not be applied: ${reason.detail}` },
    remedy: reason.remedy,
  };
}

/** Takes an event's parking back, now that it is applied or annulled: the holds as they are then. */
export function unparkedHolds(holds: readonly HoldRecord[], { source, id }: EventRef): readonly HoldRecord[] {
  return holds.flatMap((hold): HoldRecord[] => {
    if (hold.reason !== 'event-parked' || hold.state !== 'open') return [];
    const causes = hold.causes.filter((cause) => cause.source !== source || cause.id !== id);
    if (causes.length === hold.causes.length) return [];
    if (causes.length > 0) return [{ ...hold, causes }];
    return [hold.touched ? { ...hold, causeGone: true } : { ...hold, state: 'withdrawn' }];
  });
}

export function unparkedEffects(changed: readonly HoldRecord[]): BookEffect[] {
  return changed
    .filter(({ state, causeGone }) => state === 'withdrawn' || causeGone)
    .map((hold) => holdEffect(hold.state === 'withdrawn' ? 'hold-withdrawn' : 'hold-cause-gone', hold));
}

/**
 * Records of subjects as a world has them now, with the heads that the chain has reached.
 * @param clocks which of them may have another end of their floor life than before
 */
export function recordsOf(
  world: World,
  keys: ReadonlySet<StreamKey>,
  chain: ChainWriter,
  { rules, clocks }: { readonly rules: Rules; readonly clocks: ReadonlySet<StreamKey> },
): SubjectRecord[] {
  return [...keys].map((key) => {
    const { seq, hash } = chain.head(key);
    const state = stateOf(world, key);
    const clock = clocks.has(key) ? { clock: clockEndOf(world, rules, state) } : {};
    return { key, state, headSeq: seq, headHash: hash, ...clock };
  });
}

function stateOf(world: World, key: StreamKey): SubjectState | null {
  const stream = parseStream(key);
  if (key.startsWith('devices/')) {
    const state = world.devices.get(key.slice('devices/'.length));
    return state === undefined ? null : { kind: 'device', state };
  }
  if (stream?.kind === 'station') {
    const state = world.stations.get(stream.station);
    return state === undefined ? null : { kind: 'station', state };
  }
  const state = world.units.get(key);
  return state === undefined ? null : { kind: 'unit', state };
}

/** Changes of several groups as one. A hold that was changed twice is written as it came out. */
export function mergeChanges(all: readonly BookChanges[]): BookChanges {
  const holds = new Map<string, HoldRecord>();
  for (const changes of all) for (const hold of changes.holds) holds.set(hold.id, hold);
  return {
    subjects: joined(all.map(({ subjects }) => subjects)),
    entries: joined(all.map(({ entries }) => entries)),
    holds: [...holds.values()],
    clearances: joined(all.map(({ clearances = [] }) => clearances)),
    done: joined(all.map(({ done }) => done)),
    parked: joined(all.map(({ parked }) => parked)),
    postponed: joined(all.map(({ postponed }) => postponed)),
  };
}

/** A fold joins thousands of entries at a time, which `flat` and `flatMap` took twenty times as long for. */
function joined<T>(lists: readonly (readonly T[])[]): T[] {
  const all: T[] = [];
  for (const list of lists) for (const item of list) all.push(item);
  return all;
}
