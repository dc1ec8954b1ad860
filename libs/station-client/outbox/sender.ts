import { Problem, RequestRefused, StationError, Unreachable } from '../errors.js';
import { ClockEstimate } from '../clock/clock-estimate.js';
import { DEFAULT_PACE, retryPauseMs } from '../http/retry-pause.js';
import { SpoolBatch } from '../spool/read-records.js';
import { Rejected, setAside } from '../spool/set-aside.js';
import { Spool } from '../spool/spool.js';
import { Bell } from './bell.js';
import { OutboxOptions } from './outbox-options.js';
import { foreignKey, MOST_IN_BATCH, sendBatch, Verdict } from './send-batch.js';
import { told } from './told.js';

const BATCH_BYTES = 4 * 1024 * 1024;
const TIMEOUT_MS = 30_000;

/** Sends what is in a spool, one request at a time and in order, until it is stopped. */
export class Sender {
  readonly counts = { accepted: 0, duplicates: 0, rejected: 0 };
  /** The trouble that is not over. */
  lastError: StationError | undefined;
  /** Rings when an attempt is over, however it ended, and when nothing waits. */
  readonly attempted = new Bell();
  readonly #work = new Bell();
  readonly #hurry = new Bell();
  readonly #abort = new AbortController();
  readonly #most: number;
  /** Halved where a request as a whole is turned away, to find the event that is to blame. */
  #limit: number;
  #failures = 0;
  /** How often something was appended. */
  #news = 0;
  #isStopping = false;
  readonly #ended: Promise<void>;

  constructor(
    private readonly spool: Spool,
    private readonly options: OutboxOptions,
    private readonly clock: ClockEstimate,
  ) {
    this.#most = Math.max(1, Math.min(options.batchEvents ?? MOST_IN_BATCH, MOST_IN_BATCH));
    this.#limit = this.#most;
    this.#ended = this.#run();
  }

  /** Says that something was put into the spool. */
  appended(): void {
    this.#news += 1;
    this.#work.ring();
  }

  /** Ends a pause that it takes by its own counsel, not one that Heatbook has asked for. */
  hurry(): void {
    this.#hurry.ring();
  }

  /** @param graceMs for the answer to a request that is under way */
  async stop(graceMs: number): Promise<void> {
    this.#isStopping = true;
    this.appended();
    this.#hurry.ring();
    const patience = setTimeout(() => {
      this.#abort.abort();
    }, graceMs);
    await this.#ended;
    clearTimeout(patience);
    this.attempted.ring();
  }

  async #run(): Promise<void> {
    while (!this.#isStopping) {
      try {
        await this.#sendNext();
      } catch (error) {
        await this.#pauseFor(error instanceof StationError ? error : new Unreachable(String(error)));
      }
    }
  }

  async #sendNext(): Promise<void> {
    const { batchBytes = BATCH_BYTES } = this.options;
    const news = this.#news;
    const batch = await this.spool.next({ maxEvents: this.#limit, maxBytes: batchBytes });
    if (batch === undefined) {
      this.attempted.ring();
      if (this.#news === news) await this.#work.heard();
      return;
    }
    const verdicts = await this.#ask(batch);
    if (verdicts === undefined) return;
    await this.#settle(batch, verdicts);
    this.#failures = 0;
    this.lastError = undefined;
    this.#limit = Math.min(this.#most, this.#limit * 2);
    this.attempted.ring();
  }

  /** Undefined where the batch as a whole was turned away and a smaller one is to be tried. */
  async #ask({ records }: SpoolBatch): Promise<readonly Verdict[] | undefined> {
    const { timeoutMs = TIMEOUT_MS, source } = this.options;
    const jsons = records.map(({ json }) => json);
    try {
      const call = { timeoutMs, signal: this.#abort.signal, clock: this.clock };
      const verdicts = await sendBatch(this.options, jsons, call);
      const refused = verdicts.map(foreignKey).find((error, n) => error && sourceOf(jsons[n]) === source);
      if (refused !== undefined) throw refused;
      return verdicts;
    } catch (error) {
      if (!(error instanceof RequestRefused)) throw error;
      if (records.length === 1) return [{ state: 'rejected', problem: problemOf(error) }];
      this.#limit = Math.ceil(records.length / 2);
      return undefined;
    }
  }

  async #settle(batch: SpoolBatch, verdicts: readonly Verdict[]): Promise<void> {
    const rejected: Rejected[] = verdicts.flatMap((verdict, n) =>
      verdict.state === 'rejected' ? [{ event: eventOf(batch.records[n]?.json), problem: verdict.problem }] : [],
    );
    // They must be safe before they count as dealt with.
    if (rejected.length > 0) await setAside(this.spool.folder, rejected);
    await this.spool.settle(batch);
    const of = (state: Verdict['state']): number => verdicts.filter((verdict) => verdict.state === state).length;
    const come = { accepted: of('accepted'), duplicates: of('duplicate'), rejected: rejected.length };
    this.counts.accepted += come.accepted;
    this.counts.duplicates += come.duplicates;
    this.counts.rejected += come.rejected;
    for (const one of rejected) told(this.options.onRejected, one);
    told(this.options.onDelivered, { ...come, pending: this.spool.pending });
  }

  async #pauseFor(error: StationError): Promise<void> {
    if (this.#isStopping) return;
    this.lastError = error;
    this.#failures += 1;
    const { pace = DEFAULT_PACE } = this.options;
    const askedMs = error instanceof Unreachable ? error.retryAfterMs : undefined;
    const retryInMs = retryPauseMs(this.#failures, pace, askedMs);
    told(this.options.onTrouble, error, { failures: this.#failures, retryInMs });
    const pause = askedMs === undefined ? this.#hurry.heard(retryInMs) : this.#standStill(retryInMs);
    this.attempted.ring();
    await pause;
  }

  /** A pause that only the end cuts short. */
  async #standStill(ms: number): Promise<void> {
    for (const end = performance.now() + ms; !this.#isStopping;) {
      const leftMs = end - performance.now();
      if (leftMs <= 0 || !(await this.#hurry.heard(leftMs))) return;
    }
  }
}

function problemOf({ status, problem, message }: RequestRefused): Problem {
  return problem ?? { type: 'about:blank', status, detail: message };
}

function eventOf(json = '{}'): Record<string, unknown> {
  return JSON.parse(json) as Record<string, unknown>;
}

function sourceOf(json: string | undefined): unknown {
  return eventOf(json)['source'];
}
