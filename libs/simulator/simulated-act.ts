import { PlannedStep } from '../domain/clearance/clearance.js';
import { StationCloudEvent } from './station-cloud-event.js';

interface Act {
  /** When it is done, ms since 1970 by the clock of the simulated day. */
  readonly atMs: number;
  /** `{assembly}/{serial}` of the board in hand: what is done for one board is done in turn. */
  readonly board: string;
}

/** A station tells of a step. */
export interface PostAct extends Act {
  readonly kind: 'post';
  readonly event: StationCloudEvent;
  /** Id of the ask whose clearance the event names, where it was granted; null: it names none. */
  readonly under: string | null;
  /** It comes so late that what was posted of the board before it has long been judged. */
  readonly late: boolean;
}

/** A station uploads the file of its logger. */
export interface TraceAct extends Act {
  readonly kind: 'trace';
  readonly name: string;
  readonly csv: string;
}

/** A bench asks before it gets hot. */
export interface AskAct extends Act {
  readonly kind: 'ask';
  /** Also its idempotency key. */
  readonly id: string;
  readonly station: string;
  readonly operator: string;
  readonly steps: readonly PlannedStep[];
  /** What is done where it is refused: the board is put aside, or the work done all the same. */
  readonly ifRefused: 'put-aside' | 'go-ahead';
}

/** One thing that a station does with the book. */
export type SimulatedAct = PostAct | TraceAct | AskAct;
