import { orderTime } from '../../domain/events/event-order.js';
import { HoldRecord } from './hold-record.js';

export const HOLD_STAGES = ['new', 'assigned', 'decided', 'closed'] as const;

/**
 * How far the work on a hold has got: nobody has it (`new`), somebody has (`assigned`), a disposition is in force and it
 * waits for its release (`decided`), it is released or withdrawn (`closed`).
 */
export type HoldStage = (typeof HOLD_STAGES)[number];

export function stageOf(hold: Pick<HoldRecord, 'state' | 'dispositions' | 'assignee'>): HoldStage {
  if (hold.state !== 'open') return 'closed';
  if (hold.dispositions.length > 0) return 'decided';
  return hold.assignee === null ? 'new' : 'assigned';
}

/** Open, and its due date lies before `now` (RFC 3339). */
export function isOverdue({ state, dueAt }: Pick<HoldRecord, 'state' | 'dueAt'>, now: string): boolean {
  return state === 'open' && dueAt !== null && orderTime(dueAt) < orderTime(now);
}
