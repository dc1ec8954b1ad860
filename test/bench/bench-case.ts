/** One way of doing a job, to be timed. */
export interface BenchRun {
  readonly name: string;
  /** Does the job once. */
  readonly run: () => Promise<unknown>;
}

/** A job of the product beside baselines that do the least that the job could take. */
export interface BenchCase {
  readonly title: string;
  /** What is done, and how much of it, in one line. */
  readonly what: string;
  /** The product first; the others are what it is divided by. */
  readonly runs: readonly [BenchRun, ...BenchRun[]];
  /** Times that each is done; they take turns, so that a busy machine slows all of them. */
  readonly rounds: number;
  /** Figures that are no times, such as growth of memory; asked for after the last round. */
  notes?(): readonly string[];
  close(): Promise<void>;
}
