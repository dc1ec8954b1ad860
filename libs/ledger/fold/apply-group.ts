import { applyEvent } from '../../domain/book/apply-event.js';
import { World } from '../../domain/book/state.js';
import { deviceKey, StreamKey } from '../../domain/subject/subject.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { Cause } from '../../domain/holds/cause.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { HoldRecord } from '../holds/hold-record.js';
import { mayMoveClocks } from '../notices/clock-end-of.js';
import { addCauses, Stamp } from '../holds/reconcile-holds.js';
import { BookChanges, ParkedEvent, PendingEvent, SubjectRecord } from '../ports/book-store.js';
import { ChainWriter } from './chain-writer.js';
import { parkedCause, recordsOf, unparkedEffects, unparkedHolds, writeEventEntries } from './group-outcome.js';
import { changedClearances, clearancesSoFar } from './known-clearances.js';
import { worldFromRecords } from './make-world.js';

/** Everything a group of events is judged by. Records are working copies: their states change. */
export interface GroupInput {
  readonly events: readonly PendingEvent[];
  readonly records: readonly SubjectRecord[];
  readonly holds: readonly HoldRecord[];
  readonly rules: Rules;
  /** Traces that heats name, as far as they are there. */
  readonly traces: World['traces'];
  /** Clearances that the events name; for a story, all of its subjects too. */
  readonly clearances: readonly ClearanceRecord[];
}

/** The event whose judgement failed for a reason that is nobody's but the book's. */
export class JudgementFailed extends Error {
  override readonly name = 'JudgementFailed';

  constructor(
    readonly number: string,
    cause: unknown,
  ) {
    super(`event ${number} could not be judged: ${cause instanceof Error ? cause.message : String(cause)}`, { cause });
  }
}

/**
 * Judges events that happened after everything their subjects were told before: states move on, entries are appended.
 * @throws JudgementFailed naming the event; the records are spoilt then.
 */
export function applyGroup(input: GroupInput, chain: ChainWriter, stamp: Stamp): BookChanges {
  const { events, records, rules } = input;
  for (const record of records) chain.know(record);
  const world = worldFromRecords(records, input.holds, input.traces, clearancesSoFar(input.clearances));
  const changedKeys = new Set<StreamKey>();
  const clocks = new Set<StreamKey>();
  const holds = new Map(input.holds.map((hold) => [hold.id, hold]));
  const changedHolds = new Map<string, HoldRecord>();
  const parked: ParkedEvent[] = [];
  const causes: Cause[] = [];
  const keep = (changed: readonly HoldRecord[]): void => {
    for (const hold of changed) {
      holds.set(hold.id, hold);
      changedHolds.set(hold.id, hold);
    }
  };
  const firstEntry = chain.entries.length;
  for (const { number, event } of events) {
    const outcome = judged(number, () => applyEvent(world, event, rules));
    if (outcome.state === 'parked') {
      parked.push({ number, reason: outcome.reason });
      const cause = parkedCause(event, outcome.reason, rules);
      if (cause !== undefined) causes.push(cause);
      continue;
    }
    const unparked = unparkedHolds([...holds.values()], event.order);
    keep(unparked);
    for (const effect of outcome.effects) if (effect.kind === 'hold-called') causes.push(effect.cause);
    writeEventEntries(chain, { event, effects: outcome.effects, rules: rules.version }, unparkedEffects(unparked));
    const touched = [event.subject, ...outcome.devices.map(deviceKey)];
    for (const key of touched) changedKeys.add(key);
    if (mayMoveClocks(outcome.effects)) for (const key of touched) clocks.add(key);
  }
  const added = addCauses([...holds.values()], causes, stamp);
  keep([...added.raised, ...added.changed]);
  const parkedNumbers = new Set(parked.map(({ number }) => number));
  return {
    subjects: recordsOf(world, changedKeys, chain, { rules, clocks }),
    entries: chain.entries.slice(firstEntry),
    holds: [...changedHolds.values()],
    clearances: changedClearances(input.clearances, world.clearances),
    done: events.map(({ number }) => number).filter((number) => !parkedNumbers.has(number)),
    parked,
    postponed: [],
  };
}

export function judged<T>(number: string, judge: () => T): T {
  try {
    return judge();
  } catch (error) {
    throw new JudgementFailed(number, error);
  }
}
