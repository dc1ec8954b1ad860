import { StreamKey } from '../../domain/subject/subject.js';
import { CensusGroup, LedgerPlace } from '../log/log-evidence.js';
import { LedgerReach } from '../log/log-reader.js';
import { SubtreePlace } from '../log/merkle/subtrees.js';

/**
 * Hashes of perfect subtrees are kept for every so many levels; what lies between is hashed again from at most
 * 2^(SUBTREE_STEP - 1) of them.
 */
export const SUBTREE_STEP = 4;

/** What one commit wrote into ledgers, as it waits for its place in the log. */
export interface LogDelivery {
  readonly number: string;
  /** In whatever order, but for those of one ledger, which ascend. */
  readonly entries: readonly LedgerPlace[];
}

/** An entry with its place in the log. */
export interface LogLeaf extends LedgerPlace {
  /** From 0. */
  readonly index: number;
}

/** Hash of the perfect subtree at a place. */
export interface LogNode extends SubtreePlace {
  readonly hash: Uint8Array;
}

/** A signed checkpoint as it is kept. */
export interface StoredCheckpoint {
  readonly size: number;
  readonly root: Uint8Array;
  /** The signed note. */
  readonly note: string;
  /** RFC 3339 UTC. */
  readonly at: string;
}

/** Who looks whether the log is as it should be: whoever signs, and the daily check. */
export type LogWatcher = 'sequencer' | 'check';

/** Since when entries wait for what makes them provable: when the oldest of them was recorded, RFC 3339 UTC; null where none waits. */
export interface LogLag {
  /** For a place in the log. */
  readonly unplacedSince: string | null;
  /** For a place under a signed checkpoint; null too where nothing was ever signed. */
  readonly unsignedSince: string | null;
}

/** What was last found. */
export interface LogFinding {
  readonly watcher: LogWatcher;
  /** RFC 3339 UTC. */
  readonly at: string;
  /** In words, with the way out; null where nothing was wrong. */
  readonly trouble: string | null;
}

/** What may be read of the log at any time. Everything but the inbox only grows. */
export interface LogReads {
  /** Number of leaves. */
  size(): Promise<number>;
  /** Leaves by number, ascending, beginning with `from`. */
  leaves(from: number, limit: number): Promise<readonly LogLeaf[]>;
  /** Leaves of these numbers, ascending, each once; those that are not there are left out. */
  leavesAt(indexes: readonly number[]): Promise<readonly LogLeaf[]>;
  /** Stored hashes of subtrees, in the order asked for. @throws Error where one is not there */
  nodes(places: readonly SubtreePlace[]): Promise<readonly Uint8Array[]>;
  /** The newest checkpoint. */
  checkpoint(): Promise<StoredCheckpoint | undefined>;
}

/** The sequencer at work, alone. */
export interface LogTransaction extends LogReads {
  /** What waits, oldest first: at most so many, and no more than have so many entries together; the oldest in any case. */
  waiting(deliveries: number, entries: number): Promise<readonly LogDelivery[]>;
  /** Which of these places (by subject and seq) are in the log already, with the hash that they have there. */
  known(places: readonly LedgerPlace[]): Promise<readonly LedgerPlace[]>;
  /** Adds leaves after the last one, the nodes that they complete, and takes deliveries out of the inbox. */
  append(leaves: readonly LogLeaf[], nodes: readonly LogNode[], delivered: readonly string[]): Promise<void>;
  keepCheckpoint(checkpoint: StoredCheckpoint): Promise<void>;
}

/** What the check of the log reads. */
export interface LogCheckReads extends LogReads {
  /**
   * The newest entry of each ledger among the first `size` leaves, ascending by key, beginning after `after`; of those
   * whose key begins with `prefix`.
   */
  ledgersAt(
    size: number,
    page: { readonly after: StreamKey | null; readonly limit: number; readonly prefix?: string },
  ): Promise<readonly LedgerPlace[]>;
  /**
   * Leaves beside the hash that the ledger has at their place today: null where it has no entry there, empty where the
   * content of the entry does not give its hash any more.
   */
  besideLedgers(from: number, limit: number): Promise<readonly (LogLeaf & { readonly ledgerHash: string | null })[]>;
  /** Entries that are neither leaves nor waiting to be, by subject and seq: no commit of the service leaves one. */
  outsideLog(limit: number): Promise<readonly LedgerPlace[]>;
  /** By name. */
  censusGroups(size: number): Promise<readonly CensusGroup[]>;
}

/** The site-wide log. */
export interface LogStore extends LogCheckReads {
  /** The name of the log: the one it has, or, where it has none yet, `proposed`, which it keeps for ever. */
  origin(proposed: string): Promise<string>;
  /** Runs alone among all processes; `busy` where another is at work. Rolled back where `work` throws. */
  alone<T>(work: (tx: LogTransaction) => Promise<T>): Promise<T | 'busy'>;
  /** How many commits wait for their place. */
  waitingCount(): Promise<number>;
  /** Since when entries wait. */
  lag(): Promise<LogLag>;
  /** For each ledger the leaf of its newest entry up to `seq` among the first `size` leaves; left out where there is none. */
  newest(ledgers: readonly LedgerReach[], size: number): Promise<readonly LogLeaf[]>;
  /** Leaves of one ledger, ascending, beginning after a sequence. */
  ledgerLeaves(subject: StreamKey, afterSeq: number, limit: number): Promise<readonly LogLeaf[]>;
  /** Number of leaves up to and with the newest whose entry was recorded before a time, RFC 3339; 0 where there is none. */
  sizeBefore(time: string): Promise<number>;
  /** When the first entry from leaf `from` on, not of this ledger, was recorded, RFC 3339 UTC. */
  nextRecorded(from: number, except: StreamKey): Promise<string | undefined>;
  /** Keeps the groups of the census over the first `size` leaves; those that are there stay. */
  keepCensusGroups(size: number, groups: readonly CensusGroup[]): Promise<void>;
  /** Replaces what this watcher found before. */
  note(finding: LogFinding): Promise<void>;
  findings(): Promise<readonly LogFinding[]>;
}
