import { HOLD_REASONS, HoldReason } from './hold-reason.js';

/** 1 is gravest. */
export type Graveness = 1 | 2 | 3;

/** The unit has left the house as it should not have, or a judgement under which it went on was wrong. */
const OUT_OF_HAND: readonly HoldReason[] = ['shipped-open', 'late-event'];
/** Nothing is known to be wrong with the unit; somebody or something has to make it clear. */
const TO_CLEAR_UP: readonly HoldReason[] = ['event-parked', 'summary-mismatch', 'by-hand'];

/**
 * How grave a hold is by its reason, for the order of the desk: first what may already be with the customer, then broken
 * limits, damage and records that contradict each other, then what only has to be cleared up.
 */
export function gravenessOf(reason: HoldReason): Graveness {
  if (OUT_OF_HAND.includes(reason)) return 1;
  return TO_CLEAR_UP.includes(reason) ? 3 : 2;
}

/** The reasons of one graveness. */
export function reasonsOf(graveness: Graveness): readonly HoldReason[] {
  return HOLD_REASONS.filter((reason) => gravenessOf(reason) === graveness);
}
