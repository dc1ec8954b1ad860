import { ParkingReason } from '../../domain/book/apply-event.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { HoldRecord, HoldState } from '../holds/hold-record.js';
import { HoldStage } from '../holds/hold-stage.js';
import { LimitRecheck, OpenKind } from '../limits/limit-recheck.js';
import { SubjectRecord } from './book-store.js';
import { ClearanceFilter } from './clearance-store.js';
import { ChangedReads } from './changed-reads.js';
import { NameReads } from './name-reads.js';
import { EntryBytes, SealedEntry } from './seal.js';
import { RequestRef } from '../requests/request-ref.js';

/** A page of a list; `next` is handed back as the cursor of the following one. Null on the last page. */
export interface Page<T> {
  readonly items: readonly T[];
  readonly next: string | null;
}

export interface PageRequest {
  /** 1 to 500. */
  readonly limit: number;
  readonly cursor: string | null;
}

export interface UnitFilter {
  readonly customer?: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly state?: string;
}

export interface UnitRow {
  readonly assembly: string;
  readonly serial: string;
  readonly customer: string;
  readonly state: string;
  readonly openHolds: number;
  /** RFC 3339 UTC of the newest entry. */
  readonly changedAt: string;
}

export interface HoldFilter {
  readonly state?: HoldState;
  readonly reason?: HoldReason;
  readonly customer?: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly device?: string;
  readonly station?: string;
  readonly operator?: string;
  /** RFC 3339; from inclusive, to exclusive. */
  readonly raisedFrom?: string;
  readonly raisedTo?: string;
  readonly subjectKind?: HoldSubject['kind'];
  readonly stage?: HoldStage;
  readonly assignee?: string;
  readonly containment?: string;
  /** RFC 3339: open, and due before then. */
  readonly dueBefore?: string;
}

/** By age: oldest first. By graveness: the gravest first (`gravenessOf`), and of one graveness the oldest. */
export type HoldOrder = 'age' | 'graveness';

export interface EventStatus {
  /** `annulled`: struck, whether it had been applied or was parked. */
  readonly state: 'pending' | 'applied' | 'parked' | 'annulled';
  readonly subject: StreamKey;
  readonly type: string;
  readonly reason: ParkingReason | null;
  readonly entries: readonly { readonly subject: StreamKey; readonly seq: number; readonly hash: string }[];
  /** The request that brought it, where that was kept. */
  readonly request?: RequestRef;
}

export interface ParkedRow {
  readonly source: string;
  readonly id: string;
  readonly type: string;
  readonly subject: StreamKey;
  readonly reason: ParkingReason;
  readonly parkedAt: string;
}

/** Counts of the holds that match a filter. */
export interface HoldSummary {
  readonly open: number;
  /** RFC 3339 UTC of the oldest open hold, or null. */
  readonly oldestRaisedAt: string | null;
  readonly byReason: Readonly<Record<string, number>>;
  readonly byCustomer: Readonly<Record<string, number>>;
  readonly byStation: Readonly<Record<string, number>>;
  /** Of those that somebody has. */
  readonly byAssignee: Readonly<Record<string, number>>;
  readonly byStage: { readonly new: number; readonly assigned: number; readonly decided: number };
  /** Past their due date. */
  readonly overdue: number;
  /** Open holds by age. */
  readonly byAge: { readonly underOneDay: number; readonly oneToSevenDays: number; readonly overSevenDays: number };
}

/** The book's read side. Reads lock nothing and may lag behind the inbox. */
export interface ReadStore extends NameReads, ChangedReads {
  subject(key: StreamKey): Promise<SubjectRecord | undefined>;
  subjects(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]>;
  /** Entries of one ledger; `afterSeq` is exclusive in the direction of reading. */
  ledger(
    key: StreamKey,
    page: { limit: number; order: 'asc' | 'desc'; afterSeq: number | null; type?: string },
  ): Promise<readonly SealedEntry[]>;
  /** The same as they are stored, in ascending order: for whoever reads many and need not look into all of each. */
  ledgerBytes(
    key: StreamKey,
    page: { readonly limit: number; readonly afterSeq: number | null },
  ): Promise<readonly EntryBytes[]>;
  /**
   * Dressings and inspections of units that were written into the book from `from` (inclusive) to `to` (exclusive), RFC
   * 3339, in the order in which they were written, at most `limit` of them; without those that are annulled.
   */
  siteWork(range: {
    readonly from: string;
    readonly to: string;
    readonly limit: number;
  }): Promise<readonly SealedEntry[]>;
  /** What is in the house, in order of key, beginning after a key. */
  openSubjects(kind: OpenKind, after: StreamKey | null, limit: number): Promise<readonly SubjectRecord[]>;
  /** What became of judging anew for the revisions of a limit, newest first; for every limit where none is named. */
  limitRechecks(limit?: string): Promise<readonly LimitRecheck[]>;
  units(filter: UnitFilter, page: PageRequest): Promise<Page<UnitRow>>;
  /** Oldest first unless told otherwise. */
  holds(filter: HoldFilter, page: PageRequest, order?: HoldOrder): Promise<Page<HoldRecord>>;
  holdSummary(filter: HoldFilter, now: string): Promise<HoldSummary>;
  holdById(id: string): Promise<HoldRecord | undefined>;
  /** Open holds, or all, on a unit, its sites, or these devices. */
  holdsOn(keys: readonly StreamKey[], states?: readonly HoldState[]): Promise<readonly HoldRecord[]>;
  holdsByEvent(ref: { readonly source: string; readonly id: string }): Promise<readonly HoldRecord[]>;
  eventStatus(ref: { readonly source: string; readonly id: string }): Promise<EventStatus | undefined>;
  parked(page: PageRequest): Promise<Page<ParkedRow>>;
  clearance(id: string): Promise<ClearanceRecord | undefined>;
  /** Newest first; states as of `now`, RFC 3339. */
  clearanceList(filter: ClearanceFilter, now: string, page: PageRequest): Promise<Page<ClearanceRecord>>;
  /** Those that are open at a time and for, or reserving something of, these subjects. */
  openClearances(keys: readonly StreamKey[], at: string): Promise<readonly ClearanceRecord[]>;
  /** How far folding lags: events waiting, and RFC 3339 UTC of the oldest arrival among them. */
  backlog(): Promise<{ readonly pending: number; readonly oldestReceivedAt: string | null; readonly parked: number }>;
}
