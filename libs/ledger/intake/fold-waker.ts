import { StreamKey } from '../../domain/subject/subject.js';
import { JobQueue } from '../ports/job-queue.js';
import { Log } from '../ports/log.js';
import { machineWaits, Waits } from '../ports/waits.js';
import { Span, Tracer } from '../ports/tracer.js';
import { RequestRef } from '../requests/request-ref.js';
import { MOST_LINKS, sampledOf } from '../requests/traceparent.js';
import { shardOf } from './shard-of.js';

/**
 * Least time between two bundles of wake-ups. The first after a pause goes at once; under load each shard is woken so
 * often and no oftener, whatever the events: a wake-up costs api, carrier and worker as much as an event does.
 */
const REST_MS = 25;

/**
 * Wakes the fold of the shards that have something pending. Wake-ups that come while others are on their way go
 * together, each shard once. A carrier that is away is logged once, not per wake-up: the sweeper finds the events.
 */
export class FoldWaker {
  readonly #queue: Pick<JobQueue, 'addMany'>;
  readonly #shards: number;
  readonly #log: Log;
  readonly #restMs: number;
  readonly #waits: Waits;
  readonly #tracer: Tracer | undefined;
  readonly #due = new Set<number>();
  /** Traceparents of some of the requests that the wake-ups are for. */
  #causes: string[] = [];
  #sending: Promise<void> | null = null;
  #isAway = false;

  /** @param options tracer: where the wake-ups of traced requests become spans */
  constructor(
    queue: Pick<JobQueue, 'addMany'>,
    shards: number,
    log: Log,
    {
      restMs = REST_MS,
      waits = machineWaits,
      tracer,
    }: { readonly restMs?: number; readonly waits?: Waits; readonly tracer?: Tracer | undefined } = {},
  ) {
    this.#queue = queue;
    this.#shards = shards;
    this.#log = log;
    this.#restMs = restMs;
    this.#waits = waits;
    this.#tracer = tracer;
  }

  /** Returns at once. */
  wake(subjects: readonly StreamKey[], request?: RequestRef): void {
    for (const subject of subjects) this.#due.add(shardOf(subject, this.#shards));
    if (this.#tracer !== undefined && this.#causes.length < MOST_LINKS) {
      this.#causes.push(...sampledOf([request?.traceparent]));
    }
    this.#sending ??= this.#send();
  }

  /** Resolves when every wake-up so far has been handed over or given up. */
  async idle(): Promise<void> {
    await this.#sending;
  }

  async #send(): Promise<void> {
    // All requests whose events came in by one insert are answered in one turn, and go together.
    await new Promise<void>((resolve) => {
      this.#waits.afterTurn(resolve);
    });
    while (this.#due.size > 0) {
      const shards = [...this.#due];
      this.#due.clear();
      const span = this.#span(shards.length);
      const traced = span?.isRecorded === true ? { traceparent: span.traceparent } : {};
      try {
        await this.#queue.addMany(
          shards.map((shard) => ({
            name: 'fold-shard',
            payload: { shard, ...traced },
            options: { dedupeKey: String(shard) },
          })),
        );
        span?.end();
        if (this.#isAway) this.#log.info('The job carrier takes wake-ups again.');
        this.#isAway = false;
      } catch (error) {
        span?.end(error);
        if (!this.#isAway)
          this.#log.warn('The job carrier is away; events wait for the sweeper.', { error: String(error) });
        this.#isAway = true;
      }
      await new Promise<void>((resolve) => {
        this.#waits.after(this.#restMs, resolve);
      });
    }
    this.#sending = null;
  }

  #span(shards: number): Span | undefined {
    const [parent, ...links] = this.#causes;
    this.#causes = [];
    if (parent === undefined) return undefined;
    return this.#tracer?.begin('wake fold', { kind: 'producer', parent, links, facts: { 'heatbook.shards': shards } });
  }
}
