import { devicesAboard } from '../../domain/book/reach.js';
import { deviceKey, StreamKey } from '../../domain/subject/subject.js';
import { BookTransaction, PendingEvent, SubjectRecord } from '../ports/book-store.js';
import { isLate, PendingGroup, Records } from './pending-group.js';

/** The fold needs subjects of other shards, which only a transaction with the whole book to itself may lock. */
export class ReachesFarther extends Error {
  override readonly name = 'ReachesFarther';
}

/** Events, the subjects they are judged with, and whether the story of those must be told from its beginning. */
export interface FoldPlan {
  readonly events: readonly PendingEvent[];
  readonly records: readonly SubjectRecord[];
  readonly late: boolean;
}

/** The transaction to read with, and whether it has the whole book to itself. */
export interface Reach {
  readonly tx: BookTransaction;
  readonly whole: boolean;
}

/**
 * Groups whose events are late reach as far as their story does; groups that such a story touches are told with it, so
 * that no subject is judged twice in one transaction.
 * @throws ReachesFarther where a story leaves the subjects at hand and the transaction has not the whole book.
 */
export async function planFolds(reach: Reach, groups: readonly PendingGroup[], records: Records): Promise<FoldPlan[]> {
  const timely = new Set(groups.filter((group) => !isLate(group, records)));
  const late = new Set(groups.filter((group) => !timely.has(group)));
  const told: FoldPlan[] = [];
  for (const group of late) {
    late.delete(group);
    told.push(await planStory(reach, group, [timely, late], records));
  }
  const rest = [...timely].map(({ events, keys }) => ({
    events,
    records: keys.flatMap((key) => records.get(key) ?? []),
    late: false,
  }));
  return [...told, ...rest];
}

/** Draws in every other group that the story touches, and takes it out of the sets it was in. */
async function planStory(
  reach: Reach,
  group: PendingGroup,
  others: readonly Set<PendingGroup>[],
  records: Records,
): Promise<FoldPlan> {
  let events: readonly PendingEvent[] = group.events;
  let reached = await reachFully(reach, group.keys, records);
  for (;;) {
    const known = new Set(reached.map(({ key }) => key));
    const touched = others.flatMap((set) => [...set]).find(({ keys }) => keys.some((key) => known.has(key)));
    if (touched === undefined) return { events, records: reached, late: true };
    for (const set of others) set.delete(touched);
    events = [...events, ...touched.events];
    reached = await reachFully(reach, [...known, ...touched.keys], records);
  }
}

/** Everything that a story depends on: its units, all devices they ever had, all units those were on. */
export async function reachFully(reach: Reach, from: readonly StreamKey[], records: Records): Promise<SubjectRecord[]> {
  const reached = new Map<StreamKey, SubjectRecord | null>();
  let wanted: StreamKey[] = [...new Set(from)];
  while (wanted.length > 0) {
    const missing = wanted.filter((key) => !records.has(key));
    // Without the book they are only looked for: to lock units after devices is how transactions wait in a circle.
    const near = await (reach.whole ? reach.tx.load([], missing) : reach.tx.peek(missing));
    if (near.length > 0 && !reach.whole) throw new ReachesFarther();
    const found = new Map(near.map((record) => [record.key, record]));
    for (const key of wanted) reached.set(key, records.get(key) ?? found.get(key) ?? null);
    wanted = [...new Set(wanted.flatMap((key) => linksOf(reached.get(key) ?? null)))].filter(
      (key) => !reached.has(key),
    );
  }
  return [...reached.values()].filter((record) => record !== null);
}

function linksOf(record: SubjectRecord | null): StreamKey[] {
  const subject = record?.state;
  if (subject?.kind === 'unit') return [...subject.state.devicesSeen, ...devicesAboard(subject.state)].map(deviceKey);
  return subject?.kind === 'device' ? subject.state.unitsSeen : [];
}
