import { compareText, orderTime } from '../../domain/events/event-order.js';
import { FloorLifeEnd } from '../../domain/moisture/floor-life-end.js';
import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { HoldRecord } from '../holds/hold-record.js';
import { Acknowledgement, Deadline, levelAt, Notice, noticeKey, NoticeKind, noticeState } from '../notices/notice.js';
import { BookNoticeKind, DuePage, NoticeFilter, NoticeStore } from '../ports/notice-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { keysetPage } from './keyset-page.js';
import { LedgerRow, MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';
import { readHolds } from './stored-rows.js';

/** Notices in the memory of this process. */
export class MemoryNoticeStore implements NoticeStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async raise(deadlines: readonly Deadline[], { now, newId }: { now: string; newId: () => string }): Promise<number> {
    await roundTrip();
    const known = new Map(this.#rows().map((notice) => [noticeKey(notice), notice]));
    let raised = 0;
    for (const deadline of deadlines) {
      const ahead = known.get(noticeKey({ ...deadline, level: 'ahead' }));
      if (deadline.level === 'ahead' && known.has(noticeKey({ ...deadline, level: 'due' }))) continue;
      const twin = known.get(noticeKey(deadline));
      const notice = twin ?? { ...deadline, id: newId(), raisedAt: now, acknowledgement: null, settledAt: null };
      if (twin === undefined) raised += 1;
      this.#put({ ...notice, settledAt: null });
      known.set(noticeKey(deadline), notice);
      if (deadline.level === 'due' && ahead?.settledAt === null) this.#put({ ...ahead, settledAt: now });
    }
    return raised;
  }

  async standing(kinds: readonly NoticeKind[]): Promise<readonly Notice[]> {
    await roundTrip();
    return this.#rows().filter(({ kind, settledAt }) => settledAt === null && kinds.includes(kind));
  }

  async settle(ids: readonly string[], at: string): Promise<void> {
    await roundTrip();
    for (const notice of this.#rows()) {
      if (notice.settledAt === null && ids.includes(notice.id)) this.#put({ ...notice, settledAt: at });
    }
  }

  async settleMoved(kind: BookNoticeKind, at: string): Promise<void> {
    const standing = await this.standing([kind]);
    const moved = standing.filter((notice) => !isSameInstant(this.#instantOf(notice), notice.dueAt));
    await this.settle(
      moved.map(({ id }) => id),
      at,
    );
  }

  async list({ kind, level, state }: NoticeFilter, page: PageRequest): Promise<Page<Notice>> {
    await roundTrip();
    const matches = this.#rows().filter(
      (notice) =>
        (kind === undefined || notice.kind === kind) &&
        (level === undefined || notice.level === level) &&
        (state === undefined || noticeState(notice) === state),
    );
    return keysetPage(matches, ({ dueAt, id }) => [orderTime(dueAt), id], page);
  }

  async acknowledge(id: string, acknowledgement: Acknowledgement): Promise<Notice | 'not-found' | 'not-open'> {
    await roundTrip();
    const notice = this.#rows().find((row) => row.id === id);
    if (notice === undefined) return 'not-found';
    return noticeState(notice) === 'open' ? this.#put({ ...notice, acknowledgement }) : 'not-open';
  }

  async countOpen(): Promise<Readonly<Partial<Record<NoticeKind, number>>>> {
    await roundTrip();
    const counts: Partial<Record<NoticeKind, number>> = {};
    for (const notice of this.#rows()) {
      if (noticeState(notice) === 'open') counts[notice.kind] = (counts[notice.kind] ?? 0) + 1;
    }
    return counts;
  }

  async clocksDue({ now, after, limit }: DuePage): Promise<readonly StreamKey[]> {
    await roundTrip();
    const told = this.#told('moisture');
    return [...this.#tables.ledgers.values()]
      .filter((row) => {
        const clock = clockOf(row);
        const level = clock === null ? undefined : levelAt(now, clock.warnsAt, clock.endsAt);
        return level !== undefined && !told.has([row.key, '', instant(clock?.endsAt), level].join(' '));
      })
      .map(({ key }) => key)
      .filter((key) => after === null || key > after)
      .sort(compareText)
      .slice(0, limit);
  }

  async moveClock(key: StreamKey, headSeq: number, clock: FloorLifeEnd | null): Promise<void> {
    await roundTrip();
    const row = this.#tables.ledgers.get(key);
    if (row?.entries.length === headSeq) this.#tables.ledgers.set(key, { ...row, clock: JSON.stringify(clock) });
  }

  async holdsOverdue({ now, after, limit }: DuePage): Promise<readonly HoldRecord[]> {
    await roundTrip();
    const told = this.#told('hold-overdue');
    return readHolds(this.#tables.holds.values())
      .filter(({ id, state, subject, dueAt }) => {
        if (state !== 'open' || dueAt === null || Date.parse(dueAt) > Date.parse(now)) return false;
        return (
          (after === null || id > after) && !told.has([streamOfHold(subject), id, instant(dueAt), 'due'].join(' '))
        );
      })
      .sort((a, b) => compareText(a.id, b.id))
      .slice(0, limit);
  }

  /** What notices of a kind stand for: stream, item, instant and level. */
  #told(kind: NoticeKind): ReadonlySet<string> {
    const standing = this.#rows().filter((notice) => notice.kind === kind && notice.settledAt === null);
    return new Set(
      standing.map(({ subject, item, dueAt, level }) => [streamOfHold(subject), item, dueAt, level].join(' ')),
    );
  }

  #instantOf({ kind, subject, item }: Notice): string | null {
    if (kind === 'moisture') {
      const row = this.#tables.ledgers.get(streamOfHold(subject));
      return row === undefined ? null : (clockOf(row)?.endsAt ?? null);
    }
    const hold = readHolds(this.#tables.holds.values()).find(({ id }) => id === item);
    return hold?.state === 'open' ? hold.dueAt : null;
  }

  #rows(): Notice[] {
    return [...this.#tables.notices.values()].map((row) => JSON.parse(row) as Notice);
  }

  #put(notice: Notice): Notice {
    this.#tables.notices.set(notice.id, JSON.stringify(notice));
    return notice;
  }
}

function clockOf({ clock }: LedgerRow): FloorLifeEnd | null {
  return clock === undefined ? null : (JSON.parse(clock) as FloorLifeEnd | null);
}

function instant(at: string | undefined): string {
  return at === undefined ? '' : new Date(at).toISOString();
}

function isSameInstant(a: string | null, b: string): boolean {
  return a !== null && Date.parse(a) === Date.parse(b);
}
