import { Measured, Move, Step } from '../reference/gate-words.js';
import { Decision, Signer } from '../reference/naive-desk.js';
import { Ask } from '../reference/naive-plan.js';

/** When a fact happened, seen from when it is told. */
export interface When {
  /** Minutes before it is told; late where something was told of since. */
  readonly minutesAgo: number;
  /** Minutes that its heat had been on by then. */
  readonly minutesHot: number;
  readonly measured: Measured;
}

/** Whether the step is what somebody would do who looks at the board, or any at all. */
interface Sense {
  readonly sensible: boolean;
}

export interface Tell extends When, Sense {
  readonly op: 'tell';
  readonly subject: string;
  readonly doing: Step | Move;
  /** The clearance that it names, counted from the newest; `wrong` is none that was ever given. */
  readonly names: number | 'wrong' | null;
}

/** Does what a clearance is for, more or less. All that is counted (`which`, `step`) is counted round, from the newest. */
export interface Follow extends When {
  readonly op: 'follow';
  readonly which: number;
  readonly step: number;
  /** Not quite as planned. */
  readonly otherwise: boolean;
}

export type Operation =
  | Tell
  | Follow
  /** With a fact of its subject that was posted just before and is waiting. */
  | {
      readonly op: 'ask';
      readonly wish: Ask;
      readonly before: Omit<Tell, 'subject'> | null;
      readonly sensible: boolean;
    }
  | { readonly op: 'give back'; readonly which: number }
  | { readonly op: 'wait'; readonly minutes: number }
  | { readonly op: 'annul'; readonly which: number }
  /** For the budget that has so-and-so least left, so much more than its limit allows. */
  | { readonly op: 'concede'; readonly which: number; readonly more: number }
  | { readonly op: 'withdraw concession'; readonly which: number }
  | { readonly op: 'hold'; readonly subject: string; readonly by: Signer }
  | { readonly op: 'decide'; readonly which: number; readonly decision: Decision; readonly by: Signer }
  | { readonly op: 'release'; readonly which: number; readonly by: Signer }
  /** Decided by one and released by another. */
  | { readonly op: 'let go'; readonly which: number; readonly decision: Decision }
  /** Shipped and received again, with whatever its shipment was held for settled. */
  | { readonly op: 'comes back'; readonly subject: string };
