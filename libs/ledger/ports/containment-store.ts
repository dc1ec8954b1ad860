import { StreamKey } from '../../domain/subject/subject.js';
import { Contained, ContainedMark, ContainmentRecord, ContainmentRound } from '../containment/containment-record.js';
import { Page, PageRequest } from './read-store.js';

/** How far a round has got; shown, never relied on. */
export interface ContainmentProgress {
  readonly state: 'finding' | 'holding';
  readonly found: number | null;
  readonly held: number;
}

/** Containments and what they hold. The end of a round is written by the book's transaction (`BookChanges.contained`). */
export interface ContainmentStore {
  add(record: ContainmentRecord): Promise<void>;
  get(id: string): Promise<ContainmentRecord | undefined>;
  /** Newest first. */
  list(page: PageRequest): Promise<Page<ContainmentRecord>>;
  /** Another round of one that is done or failed; `busy` where a round is under way. `at`: RFC 3339 UTC. */
  again(id: string, round: ContainmentRound, at: string): Promise<ContainmentRecord | 'not-found' | 'busy'>;
  /** Counts an attempt at the round under way; undefined where none is. `at`: RFC 3339 UTC. */
  begin(id: string, at: string): Promise<ContainmentRecord | undefined>;
  /** Says how far the round is, and that somebody works on it. `at`: RFC 3339 UTC. */
  progress(id: string, progress: ContainmentProgress, at: string): Promise<void>;
  /** Says why an attempt came to nothing, and where `last`, gives the round up. Does nothing once it is done. */
  failed(id: string, why: string, last: boolean, at: string): Promise<void>;
  /**
   * Rounds under way that nobody works on: never begun and last seen before `notBegunBefore`, or begun and last seen before
   * `notSeenBefore`, RFC 3339 UTC. Oldest first, at most 100.
   */
  abandoned(notBegunBefore: string, notSeenBefore: string): Promise<readonly string[]>;
  /** What a containment holds or has held, by key. */
  contained(id: string, page: PageRequest): Promise<Page<Contained>>;
  /** The same in short and as a whole. */
  marks(id: string): Promise<ReadonlyMap<StreamKey, ContainedMark>>;
}
