import { applyEvent } from '../../domain/book/apply-event.js';
import { Effect } from '../../domain/book/effect.js';
import { World } from '../../domain/book/state.js';
import { compareOrder, EventRef } from '../../domain/events/event-order.js';
import { StationEvent } from '../../domain/events/station-event.js';
import { Cause } from '../../domain/holds/cause.js';
import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { deviceKey, parseStream, StreamKey } from '../../domain/subject/subject.js';
import { SetupBook } from '../setup/setup-book.js';
import { HoldRecord } from '../holds/hold-record.js';
import { RetoldRechecks } from '../limits/retold-rechecks.js';
import { addCauses, HoldChanges, reconcileHolds, Stamp } from '../holds/reconcile-holds.js';
import { BookChanges, ParkedEvent, PendingEvent } from '../ports/book-store.js';
import { Seal, SealedEntry } from '../ports/seal.js';
import { GroupInput, judged } from './apply-group.js';
import { BOOK_ENTRY_TYPES, BookEffect, holdEffect } from './book-effect.js';
import { ChainWriter } from './chain-writer.js';
import {
  JudgedEvent,
  movesOf,
  parkedCause,
  recordsOf,
  unparkedEffects,
  unparkedHolds,
  writeEventEntries,
} from './group-outcome.js';
import { changedClearances, clearancesBefore } from './known-clearances.js';
import { worldFromHolds } from './make-world.js';
import { Fact, moveKey, readLedgers, Rejudgement } from './rejudged.js';

/** What makes a story be told again without a new event in it. */
export type Occasion = { readonly trace: string } | { readonly annulled: EventRef };

export interface RebuildInput extends GroupInput {
  /** All entries of the ledgers of `records`. */
  readonly entries: readonly SealedEntry[];
  /** What made it necessary where no event did. */
  readonly occasion?: Occasion;
}

interface Retold {
  readonly world: World;
  readonly known: readonly { readonly fact: Fact; readonly now: readonly Effect[] }[];
  readonly added: readonly (JudgedEvent & { readonly number: string; readonly devices: readonly string[] })[];
  readonly parked: readonly (ParkedEvent & { readonly event: StationEvent })[];
}

/**
 * Judges a group whose events came late: everything that its subjects were ever told is told again, in the order in
 * which it happened, each event under the setup it was first judged under. What comes out otherwise than it stands in
 * the ledgers is added to them; nothing in them changes.
 * @throws JudgementFailed naming the event.
 */
export function rebuildGroup(
  input: RebuildInput,
  setup: SetupBook,
  seal: Seal,
  chain: ChainWriter,
  stamp: Stamp,
): BookChanges {
  for (const record of input.records) chain.know(record);
  const firstEntry = chain.entries.length;
  const { facts, moves } = readLedgers(input.entries);
  const rechecks = new RetoldRechecks(input.records, setup);
  const retold = retell(input, facts, setup, rechecks);
  const causes = [...retold.world.causes, ...lateShipments(retold, input.occasion)];
  const holds = changeHolds(retold, causes, input, stamp);
  for (const judgedEvent of retold.added) {
    writeEventEntries(chain, judgedEvent, unparkedEffects(unparkedHolds(input.holds, judgedEvent.event.order)));
  }
  const rejudged = rejudgements(retold, moves, seal);
  writeRejudged(chain, rejudged, holds, retold, input, stamp);
  rechecks.write(chain, input.entries, seal);
  const keys = new Set<StreamKey>(input.records.map(({ key }) => key));
  for (const name of retold.world.devices.keys()) keys.add(deviceKey(name));
  for (const { event } of retold.added) keys.add(event.subject);
  return {
    subjects: recordsOf(retold.world, keys, chain, { rules: input.rules, clocks: keys }),
    entries: chain.entries.slice(firstEntry),
    holds: holds.all,
    clearances: changedClearances(input.clearances, retold.world.clearances),
    done: retold.added.map(({ number }) => number),
    parked: retold.parked.map(({ number, reason }) => ({ number, reason })),
    postponed: [],
  };
}

function retell(input: RebuildInput, facts: readonly Fact[], setup: SetupBook, rechecks: RetoldRechecks): Retold {
  const world = worldFromHolds(input.holds, input.traces, clearancesBefore(input.clearances, facts));
  const known: Retold['known'][number][] = [];
  const added: Retold['added'][number][] = [];
  const parked: Retold['parked'][number][] = [];
  const told = facts.map((fact) => ({ event: fact.event, fact, pending: undefined }));
  const untold = input.events.map((pending) => ({ event: pending.event, fact: undefined, pending }));
  const all: { event: StationEvent; fact: Fact | undefined; pending: PendingEvent | undefined }[] = [
    ...told,
    ...untold,
  ];
  all.sort((a, b) => compareOrder(a.event.order, b.event.order));
  for (const { event, fact, pending } of all) {
    rechecks.until(world, event.order);
    const number = pending?.number ?? `${event.order.source} ${event.order.id}`;
    if (fact?.struck === true) {
      known.push({ fact, now: [] });
      continue;
    }
    const rules = fact === undefined ? input.rules : setup.at(fact.rules);
    const outcome = judged(number, () => applyEvent(world, event, rules));
    if (fact !== undefined) known.push({ fact, now: outcome.state === 'applied' ? outcome.effects : [] });
    else if (outcome.state === 'parked') parked.push({ number, reason: outcome.reason, event });
    else added.push({ number, event, effects: outcome.effects, rules: rules.version, devices: outcome.devices });
  }
  rechecks.until(world);
  return { world, known, added, parked };
}

/**
 * A unit was shipped with nothing open, and what came in later shows that something was. The cause is the shipment, so
 * that it stays one however many events came late.
 */
function lateShipments(retold: Retold, occasion: Occasion | undefined): Cause[] {
  return retold.known.flatMap(({ fact, now }) => {
    const before = shipmentOf(fact.first);
    const after = shipmentOf(now);
    const stream = parseStream(fact.event.subject);
    const cleanBefore = before?.complete === true && before.open.length === 0;
    if (!cleanBefore || after === undefined || after.open.length === 0 || stream?.kind !== 'unit') return [];
    const late = retold.added.map(
      ({ event }) => `${event.type} of ${event.time} from ${event.order.source}, id ${event.order.id}`,
    );
    if (occasion !== undefined && 'annulled' in occasion) {
      late.push(`annulled: event ${occasion.annulled.id} from ${occasion.annulled.source}`);
    }
    const { assembly, serial } = stream;
    return [
      {
        reason: 'late-event',
        subject: stream,
        event: fact.event.order,
        unit: { assembly, serial },
        station: fact.event.station,
        evidence: {
          summary:
            'The unit was shipped with nothing open; what came in or was annulled later shows that something was.',
          details: [...after.open, ...late],
        },
        remedy:
          'Call the unit back, or have quality close each point and tell the customer; then find out why the book was wrong at the time.',
      },
    ];
  });
}

function shipmentOf(effects: readonly Effect[]): Extract<Effect, { kind: 'shipment' }> | undefined {
  return effects.find((effect) => effect.kind === 'shipment');
}

interface RebuiltHolds extends HoldChanges {
  readonly all: readonly HoldRecord[];
}

function changeHolds(
  retold: Retold,
  causes: readonly Cause[],
  { holds, rules, occasion }: RebuildInput,
  stamp: Stamp,
): RebuiltHolds {
  const unparked = retold.added.flatMap(({ event }) => unparkedHolds(holds, event.order));
  const struck = occasion !== undefined && 'annulled' in occasion;
  const folded = reconcileHolds(holds, causes, stamp, struck);
  const parkedCauses = retold.parked.flatMap(({ event, reason }) => parkedCause(event, reason, rules) ?? []);
  const parked = addCauses(holds, parkedCauses, stamp);
  return {
    raised: [...folded.raised, ...parked.raised],
    changed: folded.changed,
    withdrawn: folded.withdrawn,
    all: [...folded.raised, ...folded.changed, ...folded.withdrawn, ...parked.raised, ...parked.changed, ...unparked],
  };
}

/** By ledger: the events that are judged otherwise than the ledger says so far. */
function rejudgements(
  retold: Retold,
  moves: ReadonlyMap<string, readonly Effect[]>,
  seal: Seal,
): ReadonlyMap<StreamKey, readonly Rejudgement[]> {
  const changes = new Map<StreamKey, Rejudgement[]>();
  const differs = (a: readonly Effect[], b: readonly Effect[]): boolean => seal.canonical(a) !== seal.canonical(b);
  const note = (ledger: StreamKey, event: EventRef, effects: readonly Effect[]): void => {
    changes.set(ledger, [...(changes.get(ledger) ?? []), { event, effects }]);
  };
  for (const { fact, now } of retold.known) {
    const { source, id } = fact.event.order;
    if (differs(fact.current, now)) note(fact.event.subject, { source, id }, now);
    const movesNow = movesOf({ event: fact.event, effects: now, rules: fact.rules });
    for (const [device, effects] of movesNow) {
      if (differs(moves.get(moveKey(deviceKey(device), { source, id })) ?? [], effects)) {
        note(deviceKey(device), { source, id }, effects);
      }
    }
    for (const device of movesOf({ event: fact.event, effects: fact.current, rules: fact.rules }).keys()) {
      if (!movesNow.has(device)) note(deviceKey(device), { source, id }, []);
    }
  }
  return changes;
}

function writeRejudged(
  chain: ChainWriter,
  changes: ReadonlyMap<StreamKey, readonly Rejudgement[]>,
  holds: HoldChanges,
  retold: Retold,
  input: RebuildInput,
  stamp: Stamp,
): void {
  const events = retold.added.map(({ event }) => ({ source: event.order.source, id: event.order.id }));
  const because = input.occasion === undefined ? events : [...events, input.occasion];
  const ledgers = new Set([...changes.keys(), ...holds.withdrawn.map(ledgerOf), ...goneOf(holds).map(ledgerOf)]);
  for (const subject of ledgers) {
    const effects: BookEffect[] = [
      ...holds.withdrawn.filter((hold) => ledgerOf(hold) === subject).map((hold) => holdEffect('hold-withdrawn', hold)),
      ...goneOf(holds)
        .filter((hold) => ledgerOf(hold) === subject)
        .map((hold) => holdEffect('hold-cause-gone', hold)),
    ];
    chain.append({
      subject,
      type: BOOK_ENTRY_TYPES.rejudged,
      time: stamp.now,
      event: null,
      actor: { kind: 'book' },
      data: { because, changes: changes.get(subject) ?? [] },
      effects,
      rules: input.rules.version,
    });
  }
}

function goneOf(holds: HoldChanges): HoldRecord[] {
  return holds.changed.filter(({ causeGone }) => causeGone);
}

/** The ledger in which a hold is told of: that of the unit on which it came to light, or of the loose device. */
export function ledgerOf(hold: HoldRecord): StreamKey {
  if (hold.unit !== null) return `${hold.unit.assembly}/${hold.unit.serial}`;
  return streamOfHold(hold.subject);
}
