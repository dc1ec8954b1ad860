import { StreamKey } from '../../domain/subject/subject.js';
import { IncomingEvent } from '../ports/book-store.js';
import { ChangeTables } from './change-tables.js';
import { LogTables } from './log-tables.js';

/** A station event and what has become of it. Rows are replaced, never changed. */
export interface InboxRow extends IncomingEvent {
  readonly number: number;
  readonly shard: number;
  /** RFC 3339 UTC. */
  readonly receivedAt: string;
  readonly state: 'pending' | 'applied' | 'parked';
  readonly attempts: number;
  readonly retried: boolean;
  /** Pending events are left alone before this, ms since 1970. */
  readonly dueAtMs: number;
  readonly parked: { /** JSON. */ readonly reason: string; readonly at: string } | null;
}

export interface EntryRow {
  readonly subject: StreamKey;
  readonly seq: number;
  /** `refKey` of the station event behind it, or null. */
  readonly event: string | null;
  /** What `hash` is over. */
  readonly bytes: string;
  readonly hash: string;
}

export interface LedgerRow {
  readonly key: StreamKey;
  /** JSON of the subject's state. */
  readonly state: string;
  readonly entries: readonly EntryRow[];
  /** JSON of the end of its floor life. */
  readonly clock?: string;
}

/** A request that may come again. */
export interface AnswerRow {
  readonly bodyHash: string;
  /** JSON. */
  readonly answer: string;
  /** RFC 3339 UTC. */
  readonly at: string;
}

/** Everything that is committed. Values that callers hand in are kept as JSON text, so that nobody shares them. */
export class MemoryTables {
  readonly inbox = new Map<number, InboxRow>();
  /** `refKey` to number in the inbox. */
  readonly numbers = new Map<string, number>();
  readonly ledgers = new Map<StreamKey, LedgerRow>();
  /** Hold id to JSON of the hold. */
  readonly holds = new Map<string, string>();
  /** Clearance id to JSON of the clearance. */
  readonly clearances = new Map<string, string>();
  /** Caller and key to what was answered, and when it was first asked. */
  readonly answers = new Map<string, AnswerRow>();
  /** JSON of each setup revision, by version from 1. */
  readonly revisions: string[] = [];
  /** Ends when the transaction that is adding revisions does; null while there is none. */
  revising: Promise<void> | null = null;
  /** Key id to JSON of the key and whether it was revoked. */
  readonly keys = new Map<string, { readonly key: string; readonly revoked: boolean }>();
  /** Notice id to JSON of the notice. */
  readonly notices = new Map<string, string>();
  /** JSON of what was put on the access record, in order. */
  readonly access: string[] = [];
  /** Containment id to JSON of the containment. */
  readonly containments = new Map<string, string>();
  /** Containment id and stream key, with a space between, to JSON of what it holds there. */
  readonly contained = new Map<string, string>();
  /** Legal hold id to JSON of the legal hold. */
  readonly legalHolds = new Map<string, string>();
  /** `{limit}@{revision}` to JSON of how far judging anew for it has come. */
  readonly rechecks = new Map<string, string>();
  /** Trace name to JSON of the trace. */
  readonly traces = new Map<string, string>();
  /** Station to when it was last heard, and of what time. */
  readonly contacts = new Map<string, { readonly heardAtMs: number; readonly eventAtMs: number }>();
  readonly log = new LogTables();
  readonly changes = new ChangeTables();
}
