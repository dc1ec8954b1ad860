import { LEAD_TIMES } from '../../domain/notices/lead-times.js';
import { StationData } from '../../domain/setup/setup-data.js';
import { levelOf } from '../notices/setup-deadlines.js';
import { StationStanding } from '../ports/station-store.js';

export const CALIBRATIONS = ['in-date', 'due-soon', 'overdue', 'unknown'] as const;

/** A station of the setup with how it stands. */
export interface StationReport extends StationStanding {
  readonly kind: string;
  /** As the setup has it, RFC 3339; null where it names none. */
  readonly calibrationDueAt: string | null;
  /** `due-soon` from when a notice is given of it; `unknown` where the setup names no due date. */
  readonly calibration: (typeof CALIBRATIONS)[number];
}

/** @param now RFC 3339 */
export function stationReport(
  { kind, calibrationDueAt }: StationData,
  standing: StationStanding,
  now: string,
): StationReport {
  return {
    ...standing,
    kind,
    calibrationDueAt: calibrationDueAt ?? null,
    calibration: calibrationDueAt === undefined ? 'unknown' : calibrationAt(calibrationDueAt, now),
  };
}

function calibrationAt(dueAt: string, now: string): StationReport['calibration'] {
  const level = levelOf(dueAt, LEAD_TIMES.calibrationDays, now)?.level;
  if (level === 'due') return 'overdue';
  return level === 'ahead' ? 'due-soon' : 'in-date';
}
