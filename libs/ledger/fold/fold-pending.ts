import { devicesAboard, devicesNamed } from '../../domain/book/reach.js';
import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { anonymousDevice, deviceKey, parseStream, StreamKey } from '../../domain/subject/subject.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { HoldRecord } from '../holds/hold-record.js';
import { Stamp } from '../holds/reconcile-holds.js';
import { BookChanges, BookTransaction, PendingEvent, SubjectRecord } from '../ports/book-store.js';
import { RequestRef } from '../requests/request-ref.js';
import { parseTraceparent } from '../requests/traceparent.js';
import { applyGroup, JudgementFailed } from './apply-group.js';
import { BookDeps } from './book-deps.js';
import { ChainWriter } from './chain-writer.js';
import { knownClearances } from './known-clearances.js';
import { knownTraces } from './known-traces.js';
import { mergeChanges } from './group-outcome.js';
import { groupPending } from './pending-group.js';
import { FoldPlan, planFolds, Reach } from './plan-folds.js';
import { ledgerOf, rebuildGroup } from './rebuild-group.js';

/** Judgements of one event before it is parked for a person to look at. */
const MOST_ATTEMPTS = 5;

/** A transaction, what it was opened with, and the setup that it judges by. */
export interface FoldDesk extends Reach {
  readonly deps: BookDeps;
  readonly rules: Rules;
}

/**
 * Folds events that the transaction has claimed into the book.
 * @param also subjects that the transaction is going to load besides: they are locked in their turn with the others
 * @returns what was written.
 * @throws ReachesFarther where a story leaves the subjects at hand and the transaction has not the whole book.
 */
export async function foldPending(
  fold: FoldDesk,
  pending: readonly PendingEvent[],
  also: readonly StreamKey[] = [],
): Promise<BookChanges> {
  const { deps, tx, rules } = fold;
  const records = await loadReached(tx, pending, rules, also);
  const holds = await tx.holds([...records.keys()]);
  const stamp: Stamp = { now: deps.clock.now(), newId: () => deps.newId() };
  const desk: Desk = { ...fold, stamp };
  const changes: BookChanges[] = [];
  for (const plan of await planFolds(desk, groupPending(pending, records), records)) {
    changes.push(await foldGroup(desk, plan, holds));
  }
  const all = mergeChanges(changes);
  await tx.write(all);
  return all;
}

/** Locks units and stations first, then every device that any of them may touch: the same order for every worker. */
async function loadReached(
  tx: BookTransaction,
  pending: readonly PendingEvent[],
  rules: Rules,
  also: readonly StreamKey[],
): Promise<Map<StreamKey, SubjectRecord>> {
  const isDevice = (key: StreamKey): boolean => parseStream(key)?.kind === 'device';
  const own = new Set(pending.map(({ event }) => event.subject));
  const boards = [...own].filter((key) => !isDevice(key));
  const loaded = await tx.load(
    boards,
    also.filter((key) => !isDevice(key)),
  );
  const records = new Map(loaded.map((record) => [record.key, record]));
  const named = new Set(pending.flatMap(({ event }) => devicesNamed(event).map(deviceKey)));
  const aboard = new Set(also.filter(isDevice));
  for (const { state, key } of records.values()) {
    if (state?.kind === 'unit') {
      for (const device of [...devicesAboard(state.state), ...state.state.devicesSeen]) aboard.add(deviceKey(device));
    }
    const stream = parseStream(key);
    if (state !== null || stream?.kind !== 'unit') continue;
    for (const { refdes } of rules.find('assembly', stream.assembly)?.body.sites ?? []) {
      aboard.add(deviceKey(anonymousDevice(stream.assembly, stream.serial, refdes)));
    }
  }
  for (const record of await tx.load([...named], [...aboard])) records.set(record.key, record);
  return records;
}

interface Desk extends FoldDesk {
  readonly stamp: Stamp;
}

/** Folds one group; an event that cannot be judged is set aside and the others go on without it. */
async function foldGroup(desk: Desk, plan: FoldPlan, known: readonly HoldRecord[]): Promise<BookChanges> {
  let { events, records } = plan;
  const aside: BookChanges[] = [];
  while (events.length > 0) {
    try {
      const changes = await judgeGroup(desk, { ...plan, events, records }, known);
      return aside.length === 0 ? changes : mergeChanges([changes, ...aside]);
    } catch (error) {
      const failed =
        error instanceof JudgementFailed ? events.find(({ number }) => number === error.number) : undefined;
      if (failed === undefined || !(error instanceof JudgementFailed)) throw error;
      const [request] = await desk.tx.requestsOf([failed.number], 1);
      desk.deps.log.error(error.message, {
        event: failed.event.order,
        attempts: failed.attempts + 1,
        ...told(request),
      });
      aside.push(setAside(failed, error));
      events = events.filter((event) => event !== failed);
      // The failed judgement may have left its marks on the states, so they are read anew.
      records = await desk.tx.load(
        [],
        records.map(({ key }) => key),
      );
    }
  }
  return mergeChanges(aside);
}

/** How the lines of a request name it, so that those of the fold are found by the same words. */
function told(request: RequestRef | undefined): { readonly requestId?: string; readonly traceId?: string | undefined } {
  if (request === undefined) return {};
  return { requestId: request.id, traceId: parseTraceparent(request.traceparent ?? '')?.traceId };
}

function setAside(failed: PendingEvent, error: JudgementFailed): BookChanges {
  const nothing: BookChanges = { subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [] };
  const { number, attempts } = failed;
  if (attempts + 1 < MOST_ATTEMPTS) {
    return { ...nothing, postponed: [{ number, delayMs: 1000 * 2 ** attempts, error: error.message }] };
  }
  const remedy = 'Tell the maintainers with the event; retry it once the service has been updated.';
  return { ...nothing, parked: [{ number, reason: { code: 'unreadable', detail: error.message, remedy } }] };
}

async function judgeGroup(desk: Desk, plan: FoldPlan, known: readonly HoldRecord[]): Promise<BookChanges> {
  const { deps, tx, rules, stamp } = desk;
  const { events, records } = plan;
  const chain = new ChainWriter(deps.seal, stamp.now);
  const keys = new Set(records.map(({ key }) => key));
  if (!plan.late) {
    const holds = known.filter((hold) => keys.has(ledgerOf(hold)) || keys.has(streamOfHold(hold.subject)));
    const steps = events.map(({ event }) => event);
    const traces = await knownTraces(deps.traces, steps);
    const clearances = await knownClearances(tx, steps);
    return applyGroup({ events, records, holds, rules, traces, clearances }, chain, stamp);
  }
  const entries = await tx.entries([...keys]);
  const steps = [...entries, ...events.map(({ event }) => event)];
  const traces = await knownTraces(deps.traces, steps);
  const clearances = await knownClearances(tx, steps, [...keys]);
  const input = { events, records, holds: await tx.holds([...keys]), rules, entries, traces, clearances };
  return rebuildGroup(input, deps.setup, deps.seal, chain, stamp);
}
