/**
 * The carrier of wake-ups. A job only says that there may be work: whoever handles it looks in the database for what is
 * to be done, so a job that is lost costs delay and one that comes twice costs a look. Nothing may exist only in a job.
 */

/**
 * Jobs that are repeated for ever, without a payload: each looks in the database for what has become due. What each does,
 * and how often, is in the table of `apps/worker/house-timers.ts`; a name without a row there does not compile.
 */
export const TIMER_NAMES = [
  'sweep-intake',
  'lapse-clearances',
  'raise-notices',
  'recheck-limits',
  'sweep-containments',
  'sweep-archives',
  'sequence-log',
  'take-census',
  'check-log',
  'forget-changes',
] as const;
export type TimerName = (typeof TIMER_NAMES)[number];

/** Every job by name, with its payload. A payload must survive JSON. */
export interface JobMap extends Record<TimerName, Record<string, never>> {
  /** Units whose key falls into this shard have pending intake. `shard`: integer from 0; `traceparent`: of the wake-up, where it is traced. */
  'fold-shard': { shard: number; traceparent?: string };
  /** A round of this containment is to be carried out. */
  'run-containment': { containment: string };
  /** This archive, and any other that waits, is to be made. */
  'make-archive': { archive: string };
}

export type JobName = keyof JobMap;

export interface AddOptions {
  /**
   * Jobs of one name with the same key are merged: one that is still waiting (delayed and backing off count as waiting)
   * takes in the newcomer, one that is running is run once more after it has ended, with the payload that came last.
   */
  dedupeKey?: string;
  /** Earliest start, in milliseconds from now. */
  delayMs?: number;
}

/** One job to be added, as data. */
export type JobRequest = {
  [N in JobName]: { name: N; payload: JobMap[N]; options?: AddOptions };
}[JobName];

export interface JobQueue {
  /**
   * Adds one job. Settles within about a second: rejects when the carrier is away, and the caller decides whether that
   * matters (for a wake-up it does not, the sweeper will find the work). A rejected job may have been added all the same.
   */
  add<N extends JobName>(name: N, payload: JobMap[N], options?: AddOptions): Promise<void>;
  /** Adds many in one round trip, with the promises of `add`. */
  addMany(jobs: readonly JobRequest[]): Promise<void>;
  /**
   * Repeats a job every `everyMs` milliseconds until this is called with another interval; calling it again, or from
   * several processes, changes nothing. At most one repetition waits at a time, but one may start while the one before
   * is still running. Kept up when the carrier comes back empty.
   */
  every<N extends JobName>(name: N, payload: JobMap[N], everyMs: number): Promise<void>;
  /** How many jobs wait to be taken; those that are delayed are left out. Rejects within about a second where the carrier is away. */
  waiting(): Promise<number>;
  /** Lets go of the carrier; jobs already added stay. Never hangs. */
  close(): Promise<void>;
}

export interface JobContext {
  /** Aborted when the job should stop at once: shutdown is overdue, or the job was lost to another worker. */
  signal: AbortSignal;
  /** 1 at the first start; counts retries and restarts after a lost worker. */
  attempt: number;
}

/** One handler for each job; a missing or unknown one does not compile. Handlers must be idempotent. */
export type JobHandlers = {
  [N in JobName]: (payload: JobMap[N], context: JobContext) => Promise<void>;
};

/** Something for each timer, by its name. */
export function forEachTimer<T>(make: (name: TimerName) => T): Record<TimerName, T> {
  return Object.fromEntries(TIMER_NAMES.map((name) => [name, make(name)])) as Record<TimerName, T>;
}

export interface JobWorker {
  /** Resolves once the worker is connected and takes jobs. */
  ready(): Promise<void>;
  /**
   * Takes no more jobs and waits for the running ones: `drained`. When that takes longer than `timeoutMs`, aborts their
   * signals and lets go: `timed-out`; what was left is run by another worker once its lock has lapsed.
   */
  close(timeoutMs: number): Promise<'drained' | 'timed-out'>;
}
