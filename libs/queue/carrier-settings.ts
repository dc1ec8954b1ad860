/** Timing and bounds of the job carrier. Times in milliseconds unless the name says otherwise. */
export interface CarrierSettings {
  /** An `add` that has not been answered by then is given up. */
  addTimeoutMs: number;
  /** Starts of a job that keeps failing, the first included. */
  attempts: number;
  /** Wait before the second attempt; doubled for each further one. */
  backoffMs: number;
  /** A running job that is not renewed for this long counts as lost. Renewed at half of it. */
  lockMs: number;
  /** How often lost jobs are looked for; one is found at the second look after its lock has lapsed at the latest. */
  stalledCheckMs: number;
  /** Times a job may lose its worker before it counts as failed: it may be the one that kills them. */
  maxStalledCount: number;
  /** Wait before a worker tries again to reach a carrier that is away. */
  retryFetchMs: number;
}

/**
 * House settings. Wake-ups are hints and a sweeper stands behind them, so all bounds are short: a shard whose worker was
 * killed runs again after 10 to 20 s, and a job that keeps failing is given up after about 8 s (0.5 + 1 + 2 + 4).
 */
export const HOUSE_SETTINGS: Readonly<CarrierSettings> = {
  addTimeoutMs: 1_000,
  attempts: 5,
  backoffMs: 500,
  lockMs: 10_000,
  stalledCheckMs: 5_000,
  maxStalledCount: 3,
  retryFetchMs: 1_000,
};

/** Finished jobs are kept only for a person who looks; ages in seconds. */
export const KEPT_COMPLETED = { age: 600, count: 100 } as const;
export const KEPT_FAILED = { age: 86_400, count: 1_000 } as const;
