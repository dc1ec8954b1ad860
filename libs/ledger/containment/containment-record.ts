import { Signature } from '../signing/signature.js';
import { Suspicion } from './suspect-cause.js';
import { Touched } from './touched.js';

/** One signed order to hold what the cause reached: the first, or a repetition for what came to light since. */
export interface ContainmentRound {
  readonly note: string;
  /** What the signature is under: with it, the hash can be worked out again. */
  readonly signed: object;
  readonly signature: Signature;
  /** Holds that it put on units and devices; null until it is done. */
  readonly held: number | null;
}

/** `finding` and `holding` are under way; what they show is progress, and nothing stands before `done`. */
export type ContainmentState = 'finding' | 'holding' | 'done' | 'failed';

export interface ContainmentRecord extends Suspicion {
  readonly id: string;
  /** Also holds the station, operator or profile itself, so that it does no further work. */
  readonly holdCause: boolean;
  /** The holds on the cause itself, once there are any. */
  readonly causeHolds: readonly string[];
  readonly state: ContainmentState;
  /** At least one; the last is the one under way or the newest done. */
  readonly rounds: readonly ContainmentRound[];
  /** What the last round has found that is to be held; null until it has looked. */
  readonly found: number | null;
  /** Of these, how many holds are ready. */
  readonly held: number;
  /** How often the last round was begun. */
  readonly attempts: number;
  /** Why the last attempt of the last round came to nothing. */
  readonly failure: string | null;
  /** RFC 3339 UTC. */
  readonly requestedAt: string;
  /** Whoever works on it said so at this time, RFC 3339 UTC. */
  readonly seenAt: string;
  readonly finishedAt: string | null;
}

/** A unit or device as a containment put its hold on it. */
export interface Contained extends Touched {
  readonly hold: string;
  /** The round that did, from 1. */
  readonly round: number;
}

/** What a containment knows of a subject that it holds or has held. */
export interface ContainedMark {
  /** Entries by which it was reached when it was held. */
  readonly touches: number;
  /** Its hold is still open. */
  readonly open: boolean;
}

/** The end of a round, written in one commit with its holds. */
export interface ContainmentDone {
  readonly id: string;
  /** From 1. */
  readonly round: number;
  readonly contained: readonly Contained[];
  /** Holds on the cause itself that this round raised. */
  readonly causeHolds: readonly string[];
  /** RFC 3339 UTC. */
  readonly at: string;
}

/** The round was done, or given up, by somebody else in between: what was made of it here must not be kept. */
export class RoundEnded extends Error {
  override readonly name = 'RoundEnded';
}

/** Whether something is new to a containment: never held by it, or released since and reached by more. */
export function isNew({ touches }: Pick<Touched, 'touches'>, known: ContainedMark | undefined): boolean {
  return known === undefined || (!known.open && touches > known.touches);
}

/**
 * A containment after the end of its round.
 * @throws RoundEnded where that round is not under way
 */
export function ended(record: ContainmentRecord | undefined, done: ContainmentDone): ContainmentRecord {
  const underWay = record?.state === 'finding' || record?.state === 'holding';
  if (record === undefined || !underWay || record.rounds.length !== done.round) {
    throw new RoundEnded(`round ${done.round} of containment ${done.id} is not under way`);
  }
  const held = done.contained.length;
  return {
    ...record,
    state: 'done',
    rounds: record.rounds.map((round, n) => (n === done.round - 1 ? { ...round, held } : round)),
    causeHolds: [...record.causeHolds, ...done.causeHolds],
    found: held,
    held,
    failure: null,
    seenAt: done.at,
    finishedAt: done.at,
  };
}
