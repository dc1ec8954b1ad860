import { PlannedStep, Reservation } from '../../domain/clearance/clearance.js';
import { PlanSpend, PlanWarning } from '../../domain/clearance/plan-verdict.js';
import { EventRef } from '../../domain/events/event-order.js';
import { parseStream } from '../../domain/subject/subject.js';
import { ClearanceRecord, ClearanceState, clearanceState } from '../clearances/clearance-record.js';

/** A clearance as the API shows it. Times are RFC 3339 UTC. */
export interface ClearanceView {
  readonly id: string;
  readonly state: ClearanceState;
  readonly assembly?: string;
  readonly serial?: string;
  readonly device?: string;
  readonly station: string;
  readonly operator: string;
  readonly grantedTo: string;
  readonly grantedAt: string;
  readonly expiresAt: string;
  readonly returnedAt: string | null;
  readonly returnedBy: string | null;
  readonly steps: readonly {
    readonly plan: PlannedStep;
    /** The device that it is for; null where none was named. */
    readonly device: string | null;
    readonly reserves: readonly Reservation[];
    /** The event that used it. */
    readonly usedBy: EventRef | null;
  }[];
  /** As they were when it was granted; `reserved` with what it reserves itself, which is `asked`. */
  readonly spends: readonly PlanSpend[];
  readonly warnings: readonly PlanWarning[];
}

/** @param now RFC 3339: as of when its state is told */
export function clearanceView(record: ClearanceRecord, now: string): ClearanceView {
  const { id, subject, station, operator, grantedTo, grantedAt, expiresAt, returnedAt, returnedBy, warnings } = record;
  const stream = parseStream(subject);
  return {
    id,
    state: clearanceState(record, now),
    ...(stream?.kind === 'unit' && { assembly: stream.assembly, serial: stream.serial }),
    ...(stream?.kind !== 'unit' && { device: subject.slice('devices/'.length) }),
    ...{ station, operator, grantedTo, grantedAt, expiresAt, returnedAt, returnedBy },
    steps: record.steps.map(({ plan, device, reserves, use }) => ({ plan, device, reserves, usedBy: use })),
    spends: record.spends.map((spend) => ({ ...spend, reserved: spend.reserved + spend.asked })),
    warnings,
  };
}
