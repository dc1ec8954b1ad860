import { FloorLifeEnd } from '../../domain/moisture/floor-life-end.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { HoldRecord } from '../holds/hold-record.js';
import { Acknowledgement, Deadline, Notice, NoticeKind, NoticeLevel, NoticeState } from '../notices/notice.js';
import { Page, PageRequest } from './read-store.js';

export interface NoticeFilter {
  readonly kind?: NoticeKind;
  readonly level?: NoticeLevel;
  readonly state?: NoticeState;
}

/** Kinds whose instants stand in the book, beside subjects and holds; the others are in the setup. */
export type BookNoticeKind = Extract<NoticeKind, 'moisture' | 'hold-overdue'>;

/** Where a page of what is due goes on. */
export interface DuePage {
  /** RFC 3339. */
  readonly now: string;
  /** The last key or id of the page before. */
  readonly after: string | null;
  readonly limit: number;
}

/** Notices, and what in the book there is to give notice of. */
export interface NoticeStore {
  /**
   * Keeps a notice for each deadline that has none yet, whoever else raises it at the same time. One that was settled is
   * in force again where its instant has come back; one given ahead is settled once that for the instant itself is there,
   * and is not raised after it.
   * @returns how many are new
   */
  raise(deadlines: readonly Deadline[], stamp: { readonly now: string; readonly newId: () => string }): Promise<number>;
  /** Every notice of these kinds that is not settled. */
  standing(kinds: readonly NoticeKind[]): Promise<readonly Notice[]>;
  /** Settles notices by their ids; those that are settled stay as they are. */
  settle(ids: readonly string[], at: string): Promise<void>;
  /** Settles the notices of a kind whose instant is no longer that of their subject's clock or of their open hold. */
  settleMoved(kind: BookNoticeKind, at: string): Promise<void>;
  /** By due instant, oldest first. */
  list(filter: NoticeFilter, page: PageRequest): Promise<Page<Notice>>;
  /** Takes note of an open notice. */
  acknowledge(id: string, acknowledgement: Acknowledgement): Promise<Notice | 'not-found' | 'not-open'>;
  /** How many are open. */
  countOpen(): Promise<Readonly<Partial<Record<NoticeKind, number>>>>;
  /** Subjects whose clocks are to be warned of by now and have no notice that says so, by key. */
  clocksDue(page: DuePage): Promise<readonly StreamKey[]>;
  /** Corrects the instants that a subject is found by, unless its ledger has grown beyond `headSeq`. */
  moveClock(key: StreamKey, headSeq: number, clock: FloorLifeEnd | null): Promise<void>;
  /** Open holds that should be closed by now and have no notice that says so, by id. */
  holdsOverdue(page: DuePage): Promise<readonly HoldRecord[]>;
}
