import { EventRef } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { HoldRecord } from '../holds/hold-record.js';
import { LedgerPlace } from '../log/log-evidence.js';
import { SubjectRecord } from './book-store.js';
import { LogCheckReads } from './log-store.js';
import { ReadStore } from './read-store.js';
import { EntryBytes } from './seal.js';

/** Where an entry is kept, beside what its bytes say. */
export interface KeptEntry extends EntryBytes {
  readonly subject: StreamKey;
  readonly seq: number;
  /** What it is looked up by. Times are UTC: `recordedAt` to the millisecond, `happenedAt` to the microsecond. */
  readonly filed: {
    readonly type: string;
    readonly event: EventRef | null;
    readonly recordedAt: string;
    readonly happenedAt: string | null;
  };
}

/** A mark that an entry is found by, as it is kept. */
export interface KeptMark {
  readonly mark: string;
  /** Beginning of the UTC hour (`2026-03-02T08:00:00Z`), or `-infinity` for what is no fact of any time. */
  readonly hour: string;
  readonly subject: StreamKey;
  readonly seq: number;
}

/** An accepted event, and everywhere that the book has it. */
export interface InboxPlace extends EventRef {
  readonly number: string;
  readonly subject: StreamKey;
  readonly pending: boolean;
  readonly parked: boolean;
  /** Entries of its own ledger that tell of it. */
  readonly told: number;
  /** Its ledger has an annulment of it. */
  readonly struck: boolean;
  /** Parked, and a hold names it as an event that is. */
  readonly held: boolean;
}

/** What a recount reads, all of one moment. Pages ascend and begin after what they are told. */
export interface RecountReads {
  /** By key. */
  subjects(after: StreamKey | null, limit: number): Promise<readonly SubjectRecord[]>;
  /** Those that are there. */
  subjectsOf(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]>;
  /** Keys that entries or holds are filed under and no subject has. */
  strayKeys(limit: number): Promise<readonly StreamKey[]>;
  /** Entries of these ledgers, by key and sequence. */
  entries(
    keys: readonly StreamKey[],
    after: { readonly subject: StreamKey; readonly seq: number } | null,
    limit: number,
  ): Promise<readonly KeptEntry[]>;
  /** Every hold, in whatever state, on these subjects or that came to light on them. */
  holds(keys: readonly StreamKey[]): Promise<readonly HoldRecord[]>;
  /** Clearances that are for these subjects or reserve something of them. */
  clearances(keys: readonly StreamKey[]): Promise<readonly ClearanceRecord[]>;
  /** Of these events those that are pending or parked. */
  waiting(events: readonly EventRef[]): Promise<readonly EventRef[]>;
  /** By number. */
  inbox(after: string, limit: number): Promise<readonly InboxPlace[]>;
  /** Numbers that are pending or parked and belong to no accepted event. */
  strayNumbers(limit: number): Promise<readonly string[]>;
  /** Entries that tell of an event that was never accepted. */
  unaccepted(limit: number): Promise<readonly Pick<LedgerPlace, 'subject' | 'seq'>[]>;
  /** Every mark, in whatever order, a page at a time. */
  marks(): AsyncIterable<readonly KeptMark[]>;
  readonly log: LogCheckReads;
  readonly ledger: ReadStore['ledger'];
}

/** What is kept beside the ledgers, to be compared with them. */
export interface RecountStore {
  /** Reads as of one moment, changing and locking nothing, while others write. */
  snapshot<T>(work: (reads: RecountReads) => Promise<T>): Promise<T>;
}
