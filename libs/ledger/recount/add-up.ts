import { Effect } from '../../domain/book/effect.js';
import { evolve } from '../../domain/book/evolve.js';
import { emptyWorld, World } from '../../domain/book/state.js';
import { compareOrder, EventOrder } from '../../domain/events/event-order.js';
import { Cause, causeKey } from '../../domain/holds/cause.js';
import { parseStream, StreamKey, subjectKey } from '../../domain/subject/subject.js';
import { Fact, readLedgers } from '../fold/rejudged.js';
import { HoldRecord } from '../holds/hold-record.js';
import { isOfTheFold } from '../holds/reconcile-holds.js';
import { inShort } from './difference.js';
import { RecountWork } from './recount-work.js';
import { Story } from './story.js';
import { ToldRecheck, toldRechecks } from './told-rechecks.js';

/** What the entries of a story come to. */
export interface Sum {
  readonly world: World;
  /** Facts that were not annulled, in the order in which they happened. */
  readonly facts: readonly Fact[];
  readonly rechecks: readonly ToldRecheck[];
  /** Causes that call for a hold still, by key; one event may say one of them more than once. */
  readonly causes: ReadonlyMap<string, readonly [Cause, ...Cause[]]>;
}

type Causes = Map<string, [Cause, ...Cause[]]>;

/** A fact or a recheck, at its place. */
interface Step {
  readonly subject: StreamKey;
  readonly order: EventOrder;
  readonly effects: readonly Effect[];
  readonly recheck?: ToldRecheck;
}

/**
 * Adds up what the entries of a story say that each event did, by the last word on it, in the order in which things
 * happened. Nothing is judged: a change of the rules or of the setup makes no difference.
 */
export function addUp(work: RecountWork, story: Story, holds: readonly HoldRecord[]): Sum {
  const facts = readLedgers(story.entries)
    .facts.filter(({ struck }) => !struck)
    .sort((a, b) => compareOrder(a.event.order, b.event.order));
  const rechecks = toldRechecks(work, story);
  const world = emptyWorld();
  const causes: Causes = new Map();
  const released = releasedCauses(holds);
  for (const step of inOrder(facts, rechecks)) {
    apply(work, world, step);
    for (const effect of step.effects) {
      if (effect.kind !== 'hold-called') continue;
      const { cause } = effect;
      causes.set(causeKey(cause), [cause, ...(causes.get(causeKey(cause)) ?? [])]);
    }
    if (step.recheck !== undefined) lift(causes, step.recheck, released);
  }
  return { world, facts, rechecks, causes };
}

function inOrder(facts: readonly Fact[], rechecks: readonly ToldRecheck[]): Step[] {
  const steps: Step[] = facts.map(({ event, current }) => ({
    subject: event.subject,
    order: event.order,
    effects: current,
  }));
  for (const recheck of rechecks) {
    steps.push({ subject: recheck.key, order: recheck.order, effects: recheck.effects, recheck });
  }
  return steps.sort((a, b) => compareOrder(a.order, b.order));
}

function apply({ tell }: RecountWork, world: World, { subject, order, effects }: Step): void {
  for (const effect of effects) {
    try {
      evolve(world, effect);
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      const what = `effect "${effect.kind}" of event ${order.id} of ${order.source}`;
      tell({ subject, what, kept: 'told by an entry', recomputed: inShort(`cannot be added up: ${why}`) });
    }
  }
  const stream = parseStream(subject);
  const state =
    world.units.get(subject) ?? (stream?.kind === 'station' ? world.stations.get(stream.station) : undefined);
  if (state !== undefined && (state.last === null || compareOrder(state.last, order) < 0)) state.last = order;
}

/** Causes that a person has answered: a limit that becomes milder does not lift those. */
function releasedCauses(holds: readonly HoldRecord[]): ReadonlySet<string> {
  const answered = holds.filter((hold) => hold.release !== null && isOfTheFold(hold) && !hold.causeGone);
  return new Set(answered.flatMap((hold) => hold.causes.map((event) => causeKey({ ...hold, event }))));
}

function lift(causes: Causes, { mark, changes }: ToldRecheck, released: ReadonlySet<string>): void {
  for (const { subject, before, after } of changes) {
    if (before.breach !== 'hold' || after.breach === 'hold') continue;
    for (const [key, [cause]] of causes) {
      const isMeant = cause.reason === mark.kind && subjectKey(cause.subject) === subjectKey(subject);
      if (isMeant && !released.has(key)) causes.delete(key);
    }
  }
}
