import { DeviceState } from '../../domain/book/state.js';
import { EventRef } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { Interval } from '../containment/suspect-cause.js';
import { SubjectRecord } from './book-store.js';
import { SealedEntry } from './seal.js';

/** Where a fact stands, without what it says. */
export interface FactRow {
  /** Of the ledger. */
  readonly subject: StreamKey;
  readonly seq: number;
  readonly type: string;
  /** When it happened, normalised UTC to the microsecond. */
  readonly at: string;
  readonly event: EventRef;
}

/** One mark, or all that begin with a text. */
export type MarkWish = { readonly mark: string } | { readonly prefix: string };

/** Where a device is, without what else is known of it. */
export interface Whereabouts {
  readonly key: StreamKey;
  readonly status: DeviceState['status'];
  /** The unit that carries it, or null. */
  readonly unit: StreamKey | null;
}

/** Finds entries of all ledgers by their marks (`marksOf`). It reads what is committed and locks nothing. */
export interface LedgerSearch {
  /**
   * Facts with a mark that happened in an interval, by ledger and sequence; annulled ones are left out. At most `limit`,
   * so that whoever gets as many knows that there may be more.
   */
  factsMarked(wish: MarkWish, interval: Interval, limit: number): Promise<readonly FactRow[]>;
  /** Ledgers with an entry that has one of these marks, whenever it was written, by key; at most `limit`. */
  ledgersMarked(marks: readonly string[], limit: number): Promise<readonly StreamKey[]>;
  /** Entries of facts that happened in an interval, annulled ones left out, by ledger and sequence, from after `after` on. */
  factsWithin(
    interval: Interval,
    page: { readonly after: { readonly subject: StreamKey; readonly seq: number } | null; readonly limit: number },
  ): Promise<readonly SealedEntry[]>;
  /** All entries of these ledgers, by key and sequence. */
  entriesOf(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]>;
  /** What is known of these subjects, by key; those that nothing is known of are left out. */
  subjectsOf(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]>;
  /** Of devices, by key; those that nothing is known of are left out. */
  whereabouts(keys: readonly StreamKey[]): Promise<readonly Whereabouts[]>;
  /** How many entries of all ledgers an account signed with its printed name in clear, not by commitment. */
  signedInClear(by: string): Promise<number>;
}
