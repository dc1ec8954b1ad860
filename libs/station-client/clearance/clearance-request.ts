import { Problem, StationError } from '../errors.js';
import { DressingMethod, HeatedPurpose, ProfileRef } from '../events/station-event-data.js';

/** A step as it is planned. What is left out, Heatbook takes on the safe side. */
export interface PlannedStep {
  readonly type:
    | 'heatbook.unit.reflowed.v1'
    | 'heatbook.device.removed.v1'
    | 'heatbook.site.dressed.v1'
    | 'heatbook.device.placed.v1'
    | 'heatbook.site.heated.v1'
    | 'heatbook.device.deballed.v1'
    | 'heatbook.device.reballed.v1';
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

/** What permission is asked for: on a unit (`assembly` and `serial`) or a loose `device`. */
export interface ClearanceRequest {
  readonly assembly?: string;
  readonly serial?: string;
  readonly device?: string;
  readonly operator: string;
  /** A station key may leave out its own. */
  readonly station?: string;
  /** 1 to 20. */
  readonly steps: readonly PlannedStep[];
  /** 60 to 86400; 3600 where left out. */
  readonly ttlSeconds?: number;
}

/** What it is about: as much of a subject as its kind has. */
export interface ClearanceSubject {
  readonly kind: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly refdes?: string;
  readonly device?: string;
}

export interface ClearanceWarning {
  readonly code: string;
  readonly subject: ClearanceSubject;
  readonly detail: string;
  readonly remedy: string;
}

/** Why it is refused, and what would mend that. */
export interface ClearanceReason extends ClearanceWarning {
  readonly limit?: string;
  readonly used?: number;
  readonly reserved?: number;
  readonly asked?: number;
  readonly allowed?: unknown;
  /** Id of the hold that refuses. */
  readonly hold?: string;
}

export interface Clearance {
  /** Name it as `clearance` in the data of the events that use it. */
  readonly id: string;
  readonly state: string;
  readonly grantedAt: string;
  readonly expiresAt: string;
  readonly spends: readonly {
    readonly subject: ClearanceSubject;
    readonly limit: string;
    readonly used: number;
    readonly reserved: number;
    readonly asked: number;
    readonly allowed: number | null;
  }[];
  readonly warnings: readonly ClearanceWarning[];
}

/** What a bench does while Heatbook cannot be asked: it waits, or it works uncleared, which the book shows. */
export type UnreachablePolicy = 'refuse' | 'proceed-uncleared';

/** `mayProceed` is the answer; the rest says why and by whom it was given. */
export type ClearanceAnswer =
  | {
      readonly verdict: 'granted';
      readonly mayProceed: true;
      readonly decidedBy: 'heatbook';
      readonly clearance: Clearance;
    }
  | {
      readonly verdict: 'refused';
      readonly mayProceed: false;
      readonly decidedBy: 'heatbook';
      readonly reasons: readonly ClearanceReason[];
      readonly problem: Problem;
    }
  | {
      readonly verdict: 'unreachable';
      /** By the policy, and by nothing else. */
      readonly mayProceed: boolean;
      readonly decidedBy: 'policy';
      readonly policy: UnreachablePolicy;
      /** Why Heatbook could not be asked. */
      readonly error: StationError;
      /** It may have been granted all the same: the same request under this key tells. */
      readonly idempotencyKey: string;
    };
