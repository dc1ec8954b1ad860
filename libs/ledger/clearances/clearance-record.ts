import { Clearance } from '../../domain/clearance/clearance.js';
import { PlanSpend, PlanWarning } from '../../domain/clearance/plan-verdict.js';
import { orderTime } from '../../domain/events/event-order.js';
import { deviceKey, StreamKey, subjectKey } from '../../domain/subject/subject.js';

/** `lapsed`: its time ran out with steps left. */
export const CLEARANCE_STATES = ['granted', 'used', 'returned', 'lapsed'] as const;
export type ClearanceState = (typeof CLEARANCE_STATES)[number];

/** A clearance as it is kept. Times are RFC 3339 UTC. */
export interface ClearanceRecord extends Clearance {
  readonly station: string;
  readonly operator: string;
  /** Who asked: the name of a station or an account. */
  readonly grantedTo: string;
  readonly returnedBy: string | null;
  /** When its lapse was written into the ledger; judgement never waits for that. */
  readonly lapsedAt: string | null;
  /** As it was when it was granted. */
  readonly spends: readonly PlanSpend[];
  readonly warnings: readonly PlanWarning[];
  /** Setup version that it was judged under. */
  readonly rules: number;
}

/** What has become of it by a time (RFC 3339). */
export function clearanceState(clearance: Clearance, now: string): ClearanceState {
  if (clearance.steps.every(({ use }) => use !== null)) return 'used';
  if (clearance.returnedAt !== null) return 'returned';
  return orderTime(now) < orderTime(clearance.expiresAt) ? 'granted' : 'lapsed';
}

/** Keys of the ledgers of everything that it is for or reserves. */
export function reachOf(clearance: Clearance): readonly StreamKey[] {
  const keys = clearance.steps.flatMap(({ device, reserves }) => [
    ...(device === null ? [] : [deviceKey(device)]),
    ...reserves.map(({ subject }) => subjectKey(subject).split('#')[0] ?? ''),
  ]);
  return [...new Set([clearance.subject, ...keys])].sort();
}
