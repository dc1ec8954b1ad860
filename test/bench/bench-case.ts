/** One figure that can be taken again and again. */
export interface Measure {
  readonly name: string;
  /** Of the figure, such as `ms` or `events/s`. */
  readonly unit: string;
  /** Takes it once. */
  readonly take: () => Promise<number>;
}

/** What a ratio should come to. */
export type Goal = { readonly atLeast: number } | { readonly atMost: number };

/** One measure over another, both of the same round: what slows the machine in a round slows both. */
export interface WantedRatio {
  readonly name: string;
  /** Names of measures. */
  readonly of: string;
  readonly over: string;
  readonly goal?: Goal;
}

/** A figure that was taken once, or is the sum or the most of all rounds. */
export interface Note {
  readonly name: string;
  readonly unit: string;
  readonly value: number;
}

/** Jobs of the product beside baselines that do the least that the job could take. */
export interface BenchCase {
  readonly title: string;
  /** What is done, and how much of it, in one line. */
  readonly what: string;
  readonly measures: readonly Measure[];
  readonly ratios: readonly WantedRatio[];
  /** Times that each measure is taken and counted; they take turns, so that a busy machine slows all of them. */
  readonly rounds: number;
  /** Rounds before those, which are not counted. */
  readonly warmUps: number;
  /** Asked for after the last round. */
  notes?(): readonly Note[];
  close(): Promise<void>;
}

/** How much a run is to take on itself. */
export interface BenchSize {
  /** Less of everything and fewer rounds: to see that it works, not what it comes to. */
  readonly quick: boolean;
}
