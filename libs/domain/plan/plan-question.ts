import { RateTable } from '../copper/rate-table.js';
import { RemainingCopper } from '../copper/remaining-copper.js';
import { ProfileRef } from '../events/heat.js';
import { LeadJoint } from '../lead/lead-in-joint.js';
import { BudgetKind, LimitRule } from '../limits/limit-rule.js';
import { SiteDesign, Skill } from '../setup/setup-data.js';
import { PlanGoal, PlanStage } from './route.js';

/** What a subject has spent of a limit and what it may. `allowed` null: no limit applies. */
export interface PlanBudget {
  readonly limit: BudgetKind;
  readonly used: number;
  readonly reserved: number;
  readonly allowed: number | null;
  readonly action: LimitRule['action'];
  /** Nobody declared what was spent before the book knew it. */
  readonly historyUnknown?: boolean;
}

/** Steps whose heat may reach a neighbour. Braid and vacuum reach none. */
export type SpreadingStep = 'removal' | 'placement' | 'fountain' | 'coupon';

export type PlanProfiles = Readonly<Partial<Record<SpreadingStep, ProfileRef>>>;

export interface PlanNeighbour {
  readonly refdes: string;
  /** By the profile that each step would use: over the line, under it, or nobody knows. */
  readonly verdicts: Readonly<Record<SpreadingStep, 'counts' | 'clear' | 'possible'>>;
  /** Excursions of the device on it; absent where it carries none. */
  readonly budget?: PlanBudget;
  /** The limit spends possible excursions like counted ones. */
  readonly countPossible?: boolean;
}

interface PlanCopper {
  readonly left: Pick<RemainingCopper, 'leftUm' | 'certainty'>;
  /** um; null: no limit applies. */
  readonly leastUm: number | null;
  readonly action: LimitRule['action'];
  readonly table?: RateTable;
}

interface PlanLead {
  readonly leadFree: boolean;
  readonly limitPct: number;
  /** Solder that the removed joint leaves. */
  readonly remnantAlloy: string;
  readonly ball: LeadJoint['ball'];
  readonly paste?: LeadJoint['paste'];
  /** Solder that flushes, and that a fountain holds. */
  readonly freshAlloy: string;
  /** Lead in the fountain's bath by its last analysis, wt%. */
  readonly bathLeadPct?: number;
}

/** All that a method plan is made from: numbers of one site as they stand here and now. */
export interface MethodPlanQuestion {
  readonly goal: PlanGoal;
  readonly stage: PlanStage;
  readonly site: Pick<
    SiteDesign,
    'refdes' | 'pads' | 'padDiameterMm' | 'ballPitchMm' | 'ballDiameterMm' | 'finish' | 'underfilled'
  >;
  /** The device to be reused. */
  readonly device?: string;
  /** `site-reworks`, `site-dressings`, `site-excursions`, in any order; one that is absent is not limited. */
  readonly siteBudgets: readonly PlanBudget[];
  /** `device-excursions` of the device that would be placed. */
  readonly deviceBudget?: PlanBudget;
  readonly neighbours: readonly PlanNeighbour[];
  /** By which profile each spreading step would be done, where one is known. */
  readonly profiles?: PlanProfiles;
  readonly copper: PlanCopper;
  readonly lead: PlanLead;
  /** Who holds which skills today. */
  readonly operators: readonly { readonly operator: string; readonly skills: readonly Skill[] }[];
  readonly methodsAllowed: { readonly methods: readonly string[]; readonly action: LimitRule['action'] };
  /** What the house does where nobody is qualified. */
  readonly qualifiedAction: LimitRule['action'];
  /** Peak of the joints at placement, C. Absent: 25 C over the liquidus of the balls (common practice, no source). */
  readonly placementPeakC?: number;
  /** Vacuum nozzle, mm. Absent: as wide as the pad. */
  readonly nozzleWidthMm?: number;
}
