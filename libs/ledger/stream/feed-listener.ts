import { ChangedReads } from '../ports/changed-reads.js';
import { ChangePlace } from '../ports/change-store.js';
import { NoteAsSeen } from './changes-as-seen.js';

/** Who looks. What was read for one eye is told to all that have the same key. */
export interface FeedEye {
  readonly key: string;
  /** What it may read now. */
  reads(): ChangedReads;
  /** Whether it may read of clearances. */
  readonly clearances: boolean;
}

/** Somebody who is told of changes. */
export interface FeedListener {
  readonly eye: FeedEye;
  /** Says where it begins; `reset`: what came before is not told any more. */
  begin(event: 'hello' | 'reset', place: ChangePlace): void;
  tell(notes: readonly NoteAsSeen[]): void;
  /** Settles once it has read most of what it was told, or is gone. */
  room(): Promise<void>;
  /** Ends it from this side; it may come again. */
  end(): void;
}
