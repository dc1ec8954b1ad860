import { EventRef } from '../../domain/events/event-order.js';
import { StationEvent } from '../../domain/events/station-event.js';
import { ParkingReason } from '../../domain/book/apply-event.js';
import { DeviceState, StationState, UnitState } from '../../domain/book/state.js';
import { FloorLifeEnd } from '../../domain/moisture/floor-life-end.js';
import { SetupData, SetupKind } from '../../domain/setup/setup-data.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { ContainmentDone } from '../containment/containment-record.js';
import { HoldRecord } from '../holds/hold-record.js';
import { ClearanceTransaction, ClearanceUpkeep } from './clearance-store.js';
import { LimitRecheck, OpenKind } from '../limits/limit-recheck.js';
import { RequestRef } from '../requests/request-ref.js';
import { SealedEntry } from './seal.js';
import { StoredRevision } from './setup-store.js';

/** A well-formed event on its way into the inbox. */
export interface IncomingEvent {
  readonly source: string;
  readonly id: string;
  readonly type: string;
  readonly subject: StreamKey;
  /** Lower-case hex SHA-256 of what the event says: it makes a repeat a duplicate rather than a conflict. */
  readonly contentHash: string;
  /** The event as canonical JSON, with extension attributes that the hash leaves out. */
  readonly payload: string;
  /** The request that brought it, where whoever sent that has named it. Kept with the event that is accepted. */
  readonly request?: RequestRef | undefined;
}

export type Acceptance = 'accepted' | 'duplicate' | 'conflict';

/** The durable inbox of station events. */
export interface EventInbox {
  /**
   * Stores events and marks them pending, all in one commit; answers in the same order once they are durable.
   * A (source, id) that is known with the same content is a duplicate, with another content a conflict; neither is stored.
   */
  accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]>;
}

/** An event that waits to be folded. */
export interface PendingEvent {
  /** Its number in the inbox. */
  readonly number: string;
  readonly event: StationEvent;
  /** How often folding it has failed so far. */
  readonly attempts: number;
  /** It was parked before and is being retried. */
  readonly retried: boolean;
}

export type SubjectState =
  | { readonly kind: 'unit'; readonly state: UnitState }
  | { readonly kind: 'device'; readonly state: DeviceState }
  | { readonly kind: 'station'; readonly state: StationState };

/** A ledger's head and the state its entries add up to. `state` null: nothing is known of the subject (yet, or any more). */
export interface SubjectRecord {
  readonly key: StreamKey;
  readonly state: SubjectState | null;
  readonly headSeq: number;
  readonly headHash: string;
  /**
   * When the floor life of the unit in house or loose device ends, so that the timers find it; null where no clock runs.
   * Written, never read back: left out, what stands is left as it is.
   */
  readonly clock?: FloorLifeEnd | null;
}

/** An entry together with the canonical bytes that its hash is over. */
export interface StoredEntry {
  readonly entry: SealedEntry;
  readonly bytes: string;
}

/** A ledger's head without what its entries add up to. */
export interface LedgerHead {
  readonly key: StreamKey;
  readonly headSeq: number;
  readonly headHash: string;
}

export interface ParkedEvent {
  readonly number: string;
  readonly reason: ParkingReason;
}

/** Everything that one fold changes; it becomes durable as a whole or not at all. */
export interface BookChanges {
  readonly subjects: readonly SubjectRecord[];
  readonly entries: readonly StoredEntry[];
  /** New holds, and known ones as they are now. */
  readonly holds: readonly HoldRecord[];
  /** Ledgers that got entries without a change of state; read by `heads` before. */
  readonly heads?: readonly LedgerHead[];
  /** The end of a containment's round. */
  readonly contained?: ContainmentDone;
  /** New clearances, and known ones as they are now. */
  readonly clearances?: readonly ClearanceRecord[];
  /** How far judging anew for a revision of a limit has come. */
  readonly recheck?: LimitRecheck;
  /** Numbers of pending events that are folded now. */
  readonly done: readonly string[];
  readonly parked: readonly ParkedEvent[];
  /** Pending events whose folding failed: tried again after a delay, ms. */
  readonly postponed: readonly { readonly number: string; readonly delayMs: number; readonly error: string }[];
}

/** Subjects that are to be judged, and what else may stand against that. */
export interface StandingAsked {
  /** As for `load`. */
  readonly keys: readonly StreamKey[];
  readonly ifKnown: readonly StreamKey[];
  /** Ledgers whose holds are asked for besides those of the subjects. */
  readonly alsoHeld: readonly StreamKey[];
  /** RFC 3339: when clearances are to be open. */
  readonly openAt: string;
}

/** Subjects with everything that stands about them, read after they were locked. */
export interface Standing {
  readonly records: readonly SubjectRecord[];
  readonly holds: readonly HoldRecord[];
  readonly clearances: readonly ClearanceRecord[];
}

/** Events that are claimed, or where none were pending, what stands. */
export type PendingOrStanding =
  { readonly pending: readonly PendingEvent[] } | { readonly pending?: undefined; readonly standing: Standing };

/** A fold at work. Subjects that were loaded are locked until it ends. */
export interface BookTransaction extends ClearanceTransaction {
  /** Pending events of these shards that are due and that no other transaction has claimed, oldest in the inbox first. */
  claim(shards: readonly number[], limit: number): Promise<readonly PendingEvent[]>;
  /** The same of these devices, by their stream keys and whatever their shard; what was claimed here before is left out. */
  claimDevices(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]>;
  /** Those of these devices that have due events which were not claimed here: others have claimed them, or they came since. */
  unclaimedDevices(keys: readonly StreamKey[]): Promise<readonly StreamKey[]>;
  /**
   * All pending events of these subjects, due or not, after waiting for whoever has claimed them. Subjects are to be
   * locked after this, never before.
   */
  claimSubjects(keys: readonly StreamKey[]): Promise<readonly PendingEvent[]>;
  /** Requests that brought these events, by their numbers: each once, the oldest first, as far as they were kept. */
  requestsOf(numbers: readonly string[], limit: number): Promise<readonly RequestRef[]>;
  /** Reads subjects without locking them: what they say may be old by the time it is read. */
  peek(keys: readonly StreamKey[]): Promise<readonly SubjectRecord[]>;
  /**
   * Locks and reads subjects, sorted by key whatever the order asked in. Those of `keys` that are new get an empty
   * record; those of `ifKnown` that are new are left out. Loading a subject again reads it anew.
   */
  load(keys: readonly StreamKey[], ifKnown?: readonly StreamKey[]): Promise<readonly SubjectRecord[]>;
  /** As `load`, then `holds` and `clearancesOn` of all the subjects asked for: in one go, for who has to be quick. */
  standing(asked: StandingAsked): Promise<Standing>;
  /**
   * `claimSubjects`, and `standing` where that finds nothing: in one go. Where it finds something, that is claimed and no
   * subject is locked.
   */
  pendingOrStanding(claimed: readonly StreamKey[], asked: StandingAsked): Promise<PendingOrStanding>;
  /** Locks the subjects that are known, by key, and reads their heads alone: for entries that change no state. */
  heads(keys: readonly StreamKey[]): Promise<readonly LedgerHead[]>;
  /** All entries of these ledgers, by key and sequence. */
  entries(keys: readonly StreamKey[]): Promise<readonly SealedEntry[]>;
  /** Every hold, in whatever state, on these units and devices or that came to light on these units. */
  holds(keys: readonly StreamKey[]): Promise<readonly HoldRecord[]>;
  /** A hold by its id, locked. */
  hold(id: string): Promise<HoldRecord | undefined>;
  /** How far judging anew for a revision of a limit has come, locked. */
  limitRecheck(limit: string, revision: number): Promise<LimitRecheck | undefined>;
  /** Keys of what is in the house, in order, beginning after a key; nothing is locked. */
  openKeys(kind: OpenKind, after: StreamKey | null, limit: number): Promise<readonly StreamKey[]>;
  /** Takes a parked event out of the inbox for good. @returns false where it is not parked. */
  dropParked(ref: EventRef): Promise<boolean>;
  /** Version of the newest setup revision. */
  setupVersion(): Promise<number>;
  /**
   * Adds a revision of a setup record, as `SetupStore.revise` does, but in one commit with everything else here. Nobody
   * else can add one until this transaction ends.
   */
  enterSetup<K extends SetupKind>(kind: K, name: string, body: SetupData[K], by: string): Promise<StoredRevision>;
  /**
   * @throws TryAgain where a subject that was not loaded turns out to exist already.
   * @throws RoundEnded where the containment's round is not under way any more.
   */
  write(changes: BookChanges): Promise<void>;
  /**
   * Lets the last things that were asked for here go with the commit: nobody waits for them in between, and where one fails
   * the work does. What is left must be sent at once, so no `write` that opens subjects or ends a containment's round.
   */
  leave(asked: Promise<unknown>): void;
}

/** Another transaction came in between; the same work can be done again from its beginning. */
export class TryAgain extends Error {
  override readonly name = 'TryAgain';
}

/** The book's write side. */
export interface BookStore extends EventInbox, ClearanceUpkeep {
  /** How many shards pending events are spread over. */
  readonly shards: number;
  /**
   * Runs with those of these shards to itself that no other worker has, and tells which; `busy` where others have them all.
   * Rolled back where `work` throws.
   */
  withShards<T>(
    shards: readonly number[],
    work: (tx: BookTransaction, own: readonly number[]) => Promise<T>,
  ): Promise<T | 'busy'>;
  /** Runs beside the folds of shards, for work on few subjects that cannot wait for its turn. */
  besideFolds<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T>;
  /** Runs with the whole book to itself, for a fold that reaches over shards. */
  exclusively<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T>;
  /** Shards that have pending events due. */
  shardsDue(): Promise<readonly number[]>;
  /**
   * Revisions of limits for which what is in the house is still to be judged anew, in the order in which they came into
   * force. Revisions that were entered since the last time are noted first; those of the house's defaults are not.
   * @param now RFC 3339.
   */
  rechecksDue(now: string): Promise<readonly LimitRecheck[]>;
  /** Makes parked events pending again: one, or all where `ref` is left out. Returns how many, and in which shards. */
  unpark(ref?: { readonly source: string; readonly id: string }): Promise<{ count: number; shards: readonly number[] }>;
}
