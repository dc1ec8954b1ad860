import { Stream, parseStream, StreamKey } from '../../domain/subject/subject.js';
import { clearanceView } from '../views/clearance-view.js';
import { holdView } from '../views/hold-view.js';
import { ChangedReads } from '../ports/changed-reads.js';
import { ChangeNote, ChangePlace } from '../ports/change-store.js';

/** What is told of a change: what it is about, never the whole of it. */
export type ChangeMessage =
  | { readonly event: 'entry'; readonly data: EntryTold }
  | { readonly event: 'hold'; readonly data: object }
  | { readonly event: 'clearance'; readonly data: object };

/** An entry that was written into a ledger. */
export interface EntryTold {
  /** Key of the ledger. */
  readonly stream: StreamKey;
  /** What the ledger is of; null for those of operators, profiles and the book itself. */
  readonly subject: Stream | null;
  readonly seq: number;
  readonly type: string;
  /** RFC 3339: when it happened, and when it was written. */
  readonly time: string;
  readonly recordedAt: string;
}

/** What one note comes to for a reader; nothing, where it is about what they may not see. */
export interface NoteAsSeen {
  readonly place: ChangePlace;
  readonly messages: readonly ChangeMessage[];
}

interface Eye {
  /** What the reader may read. */
  readonly reads: ChangedReads;
  /** Whether they may read of clearances. */
  readonly clearances: boolean;
  /** RFC 3339. */
  readonly now: string;
}

/** Notes as one reader may see them, in their order. Holds and clearances are told as they are now. */
export async function changesAsSeen(eye: Eye, notes: readonly ChangeNote[]): Promise<readonly NoteAsSeen[]> {
  const [entries, holds, clearances] = await Promise.all([
    eye.reads.entriesAt(notes.flatMap((note) => note.entries)),
    eye.reads.holdsByIds([...new Set(notes.flatMap((note) => note.holds))]),
    eye.clearances ? eye.reads.clearancesByIds([...new Set(notes.flatMap((note) => note.clearances))]) : [],
  ]);
  const entryAt = new Map(entries.map((entry) => [`${entry.subject} ${entry.seq}`, entry]));
  const holdBy = new Map(holds.map((hold) => [hold.id, hold]));
  const clearanceBy = new Map(clearances.map((clearance) => [clearance.id, clearance]));
  return notes.map((note) => ({
    place: note.place,
    messages: [
      ...note.entries.flatMap(({ subject, seq }): ChangeMessage[] => {
        const entry = entryAt.get(`${subject} ${seq}`);
        if (entry === undefined) return [];
        const { type, time, recordedAt } = entry;
        const data = { stream: subject, subject: parseStream(subject) ?? null, seq, type, time, recordedAt };
        return [{ event: 'entry', data }];
      }),
      ...note.holds.flatMap((id): ChangeMessage[] => {
        const hold = holdBy.get(id);
        if (hold === undefined) return [];
        const { state, stage, reason, subject, unit, customer, station } = holdView(hold);
        return [{ event: 'hold', data: { id, state, stage, reason, subject, unit, customer, station } }];
      }),
      ...note.clearances.flatMap((id): ChangeMessage[] => {
        const clearance = clearanceBy.get(id);
        if (clearance === undefined) return [];
        const { state, assembly, serial, device, station, expiresAt } = clearanceView(clearance, eye.now);
        return [{ event: 'clearance', data: { id, state, assembly, serial, device, station, expiresAt } }];
      }),
    ],
  }));
}
