import { EventRef, orderTime } from '../events/event-order.js';
import { ProfileRef } from '../events/heat.js';
import { DressingMethod, HeatedPurpose, StationEventType } from '../events/station-event.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { StreamKey, Subject } from '../subject/subject.js';

/** Steps that bring heat to a joint or spend something: those that ask for a clearance. A bake is none of them. */
export const CLEARED_TYPES = [
  'heatbook.unit.reflowed.v1',
  'heatbook.device.removed.v1',
  'heatbook.site.dressed.v1',
  'heatbook.device.placed.v1',
  'heatbook.site.heated.v1',
  'heatbook.device.deballed.v1',
  'heatbook.device.reballed.v1',
] as const satisfies readonly StationEventType[];
export type ClearedType = (typeof CLEARED_TYPES)[number];

export function isClearedType(type: StationEventType): type is ClearedType {
  return CLEARED_TYPES.some((cleared) => cleared === type);
}

/** A step as it is asked for, before anything is hot. What is left out is filled in by `plannedEvent`. */
export interface PlannedStep {
  readonly type: ClearedType;
  readonly refdes?: string;
  readonly device?: string;
  readonly method?: DressingMethod;
  readonly profile?: ProfileRef;
  readonly fate?: 'scrap' | 'keep';
  readonly purpose?: HeatedPurpose;
  readonly side?: 'top' | 'bottom';
  readonly part?: string;
  readonly passes?: number;
  readonly contactSeconds?: number;
  readonly solderC?: number;
  readonly flowing?: boolean;
  readonly solderAlloy?: string;
  readonly ballAlloy?: string;
  readonly ballDiameterMm?: number;
  readonly attach?: 'flux' | 'paste';
  readonly pasteAlloy?: string;
  readonly pasteVolumeMm3?: number;
}

/** What one step holds back of one budget: excursions, reworks, dressings or passes. */
export interface Reservation {
  readonly subject: Subject;
  readonly limit: BudgetKind;
  readonly counted: number;
  /** Spent only where the limit spends what is possible. */
  readonly possible: number;
}

export interface ClearanceStep {
  readonly plan: PlannedStep;
  readonly reserves: readonly Reservation[];
  /** The device that the step is for, by the newest name that the book has for it; null where none was named. */
  device: string | null;
  /** The event that used it, or null. */
  use: EventRef | null;
}

/** Permission for planned steps, as the fold reads it. Plain JSON; the fold's own working copy. */
export interface Clearance {
  readonly id: string;
  /** The unit, or the loose device, that it is for. */
  readonly subject: StreamKey;
  /** RFC 3339 UTC: from when until before when its steps may begin. */
  readonly grantedAt: string;
  readonly expiresAt: string;
  /** When it was given back, or null. */
  readonly returnedAt: string | null;
  readonly steps: ClearanceStep[];
}

/** Whether its unused steps still hold something back at a time (RFC 3339). No timer has to have run for that. */
export function isOpen(clearance: Clearance, at: string): boolean {
  return (
    clearance.returnedAt === null &&
    orderTime(at) < orderTime(clearance.expiresAt) &&
    clearance.steps.some(({ use }) => use === null)
  );
}

/** What its unused steps hold back. */
export function reservationsOf(clearance: Clearance): readonly Reservation[] {
  return clearance.steps.flatMap(({ use, reserves }) => (use === null ? reserves : []));
}
