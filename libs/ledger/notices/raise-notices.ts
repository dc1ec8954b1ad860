import { Clock } from '../ports/clock.js';
import { DuePage, NoticeStore } from '../ports/notice-store.js';
import { ReadStore } from '../ports/read-store.js';
import { SetupBook } from '../setup/setup-book.js';
import { HoldRecord } from '../holds/hold-record.js';
import { lookAtClocks } from './moisture-deadlines.js';
import { Deadline, noticeKey } from './notice.js';
import { setupDeadlines } from './setup-deadlines.js';

/** Subjects or holds that are looked at together. */
const PAGE = 200;

export interface NoticeDeps {
  readonly notices: NoticeStore;
  readonly reads: Pick<ReadStore, 'subjects'>;
  readonly setup: SetupBook;
  readonly clock: Clock;
  /** A fresh UUID. */
  newId(): string;
}

/**
 * Gives notice of everything that has come due, or soon will, and settles what no longer applies. Each warning is raised
 * once, however often and by however many this is run, and what came due while nobody ran it is raised at the next run.
 * @returns how many notices were raised
 */
export async function raiseNotices(deps: NoticeDeps, stopped: () => boolean = () => false): Promise<number> {
  const now = deps.clock.now();
  await deps.setup.catchUp();
  return (
    (await noticesOfSetup(deps, now)) +
    (await noticesOfClocks(deps, now, stopped)) +
    (await noticesOfHolds(deps, now, stopped))
  );
}

async function noticesOfSetup(deps: NoticeDeps, now: string): Promise<number> {
  const wanted = new Map(setupDeadlines(deps.setup, now).map((deadline) => [noticeKey(deadline), deadline]));
  const standing = await deps.notices.standing(['calibration', 'qualification']);
  const known = new Set(standing.map(noticeKey));
  const raised = await raise(
    deps,
    now,
    [...wanted].flatMap(([key, deadline]) => (known.has(key) ? [] : [deadline])),
  );
  const gone = standing.flatMap((notice) => (wanted.has(noticeKey(notice)) ? [] : [notice.id]));
  if (gone.length > 0) await deps.notices.settle(gone, now);
  return raised;
}

/** Clocks are found by the instants that the fold wrote; each is read anew, since its part may have been revised. */
async function noticesOfClocks(deps: NoticeDeps, now: string, stopped: () => boolean): Promise<number> {
  const { notices, reads, setup } = deps;
  const due = (page: DuePage): Promise<readonly string[]> => notices.clocksDue(page);
  const raised = await inPages(now, stopped, due, String, async (keys) => {
    const looks = await lookAtClocks(reads, keys, setup.latest(), now);
    for (const { record, clock } of looks) await notices.moveClock(record.key, record.headSeq, clock);
    return raise(
      deps,
      now,
      looks.flatMap(({ deadline }) => deadline ?? []),
    );
  });
  await notices.settleMoved('moisture', now);
  return raised;
}

async function noticesOfHolds(deps: NoticeDeps, now: string, stopped: () => boolean): Promise<number> {
  const due = (page: DuePage): Promise<readonly HoldRecord[]> => deps.notices.holdsOverdue(page);
  const raised = await inPages(
    now,
    stopped,
    due,
    ({ id }) => id,
    (holds) => raise(deps, now, holds.flatMap(overdue)),
  );
  await deps.notices.settleMoved('hold-overdue', now);
  return raised;
}

function overdue({ id, reason, subject, assignee, dueAt }: HoldRecord): Deadline[] {
  if (dueAt === null) return [];
  const whose = assignee === null ? 'Nobody is assigned to it.' : `It is assigned to ${assignee}.`;
  return [
    {
      kind: 'hold-overdue',
      level: 'due',
      subject,
      item: id,
      dueAt: new Date(dueAt).toISOString(),
      detail: `Hold ${id} (${reason}) was to be closed by ${dueAt} and is open. ${whose}`,
      remedy: 'Decide and release it, or set a later due date that can be kept.',
    },
  ];
}

async function raise(deps: NoticeDeps, now: string, deadlines: readonly Deadline[]): Promise<number> {
  return deadlines.length === 0 ? 0 : deps.notices.raise(deadlines, { now, newId: () => deps.newId() });
}

/** Goes through what is due page by page, in order of key, so that it ends though a page changes nothing. */
async function inPages<T>(
  now: string,
  stopped: () => boolean,
  read: (page: DuePage) => Promise<readonly T[]>,
  keyOf: (item: T) => string,
  work: (items: readonly T[]) => Promise<number>,
): Promise<number> {
  let raised = 0;
  for (let after: string | null = null; !stopped();) {
    const items = await read({ now, after, limit: PAGE });
    if (items.length > 0) raised += await work(items);
    const last = items.at(-1);
    if (last === undefined || items.length < PAGE) break;
    after = keyOf(last);
  }
  return raised;
}
