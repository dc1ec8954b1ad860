import { ClearanceRecord } from '../ledger/clearances/clearance-record.js';

/** A clearance as its table keeps it. */
export interface ClearanceRow {
  readonly id: string;
  readonly subject: string;
  readonly station: string;
  readonly operator: string;
  readonly granted_to: string;
  readonly granted_at: Date;
  readonly expires_at: Date;
  readonly returned_at: Date | null;
  readonly returned_by: string | null;
  readonly lapsed_at: Date | null;
  readonly steps: ClearanceRecord['steps'];
  readonly spends: ClearanceRecord['spends'];
  readonly warnings: ClearanceRecord['warnings'];
  readonly rules: string;
}

export const CLEARANCE_COLUMNS = `id, subject, station, operator, granted_to, granted_at, expires_at, returned_at,
  returned_by, lapsed_at, steps, spends, warnings, rules`;

export function toClearance(row: ClearanceRow): ClearanceRecord {
  const { id, subject, station, operator, steps, spends, warnings } = row;
  return {
    ...{ id, subject, station, operator, steps, spends, warnings },
    grantedTo: row.granted_to,
    grantedAt: row.granted_at.toISOString(),
    expiresAt: row.expires_at.toISOString(),
    returnedAt: row.returned_at?.toISOString() ?? null,
    returnedBy: row.returned_by,
    lapsedAt: row.lapsed_at?.toISOString() ?? null,
    rules: Number(row.rules),
  };
}

/** What a clearance is written from, one JSON object a row. */
export function fromClearance(clearance: ClearanceRecord): object {
  return {
    ...clearance,
    granted_to: clearance.grantedTo,
    granted_at: clearance.grantedAt,
    expires_at: clearance.expiresAt,
    returned_at: clearance.returnedAt,
    returned_by: clearance.returnedBy,
    lapsed_at: clearance.lapsedAt,
    used: clearance.steps.every(({ use }) => use !== null),
  };
}
