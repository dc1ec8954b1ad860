import { StreamKey } from '../../domain/subject/subject.js';

/**
 * A place among the changes of the book, in an order in which none is ever put before one that was told already: by the
 * transaction that made it, and of one transaction by number. Decimal integers; transactions are told in ascending order
 * once none before them is still at work.
 */
export interface ChangePlace {
  readonly transaction: string;
  readonly number: string;
}

/** What one statement changed: entries of ledgers, holds or clearances. */
export interface ChangeNote {
  readonly place: ChangePlace;
  readonly entries: readonly { readonly subject: StreamKey; readonly seq: number }[];
  /** Ids of holds that are new or not as they were. */
  readonly holds: readonly string[];
  /** Ids of clearances that are new or not as they were. */
  readonly clearances: readonly string[];
}

/**
 * Notes of what was committed, kept for a while for those who follow along. They say that something changed, never how it
 * is; the book itself is the only record.
 */
export interface ChangeStore {
  /** The place after which everything lies that is not told yet. */
  now(): Promise<ChangePlace>;
  /** Notes after a place, in order: as many as together have at most so many changes, and the first in any case. */
  after(place: ChangePlace, limit: number): Promise<readonly ChangeNote[]>;
  /** Removes notes that were written before a time, RFC 3339. */
  forget(before: string): Promise<void>;
}
