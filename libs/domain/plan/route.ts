import { ProfileRef } from '../events/heat.js';
import { DressingMethod, StationEventType } from '../events/station-event.js';
import { Skill } from '../setup/setup-data.js';
import { dressingMinutes, DressedArea } from './dressing-methods.js';

export type PlanGoal = 'new-device' | 'reuse-device';
/** Where the route starts: the device still sits on the site, the site is bare, or it is dressed already. */
export type PlanStage = 'fitted' | 'bare' | 'dressed';

/** What a step spends where nobody measures better. Policy: the counting rules of the house. */
export interface StepSpends {
  readonly siteReworks: 0 | 1;
  readonly siteDressings: 0 | 1;
  readonly siteExcursions: 0 | 1;
  readonly deviceExcursions: 0 | 1;
}

export interface RouteStep {
  readonly type: StationEventType;
  readonly skill: Skill;
  readonly refdes?: string;
  readonly device?: string;
  readonly method?: DressingMethod;
  readonly fate?: 'scrap' | 'keep';
  /** By which its neighbours were judged. */
  readonly profile?: ProfileRef;
  readonly spends: StepSpends;
  /** Hot gas or a bath that reaches the neighbours. */
  readonly spreads: boolean;
  readonly minutes: number;
  readonly why: string;
}

export interface RouteQuestion {
  readonly goal: PlanGoal;
  readonly stage: PlanStage;
  readonly refdes: string;
  /** The device to be reused. A new one has no name yet. */
  readonly device?: string | undefined;
  readonly area: DressedArea;
  readonly dressing: DressingMethod;
  readonly passes?: number;
  /** How the balls come off; asked for where the device is reused. Absent: as the site is dressed. */
  readonly deballing?: DressingMethod | undefined;
}

/** Minutes of a hot-gas cycle with its set-up, of reballing, and of getting a device ready to be deballed. House assumptions. */
const MINUTES = { removal: 12, placement: 15, reballing: 25 };

const NOTHING: StepSpends = { siteReworks: 0, siteDressings: 0, siteExcursions: 0, deviceExcursions: 0 };

/**
 * The steps from where the site is to a device on it. A new device: removal to scrap, dressing, placement. A reused
 * one: removal to keep, dressing, deballing, reballing, placement; a site that is bare or dressed starts later.
 * @throws RangeError as `dressingMinutes`.
 */
export function routeSteps(question: RouteQuestion): readonly RouteStep[] {
  const { goal, stage } = question;
  const steps: RouteStep[] = [];
  if (stage === 'fitted') steps.push(removal(question));
  if (stage !== 'dressed') steps.push(dressing(question));
  if (goal === 'reuse-device') steps.push(deballing(question), reballing(question));
  steps.push(placement(question));
  return steps;
}

/** What a route spends in all. */
export function spendsOf(steps: readonly RouteStep[]): Readonly<Record<keyof StepSpends, number>> {
  const total = { siteReworks: 0, siteDressings: 0, siteExcursions: 0, deviceExcursions: 0 };
  for (const { spends } of steps) {
    total.siteReworks += spends.siteReworks;
    total.siteDressings += spends.siteDressings;
    total.siteExcursions += spends.siteExcursions;
    total.deviceExcursions += spends.deviceExcursions;
  }
  return total;
}

/** The excursion of a device that goes to scrap is nobody's loss. */
function removal({ goal, refdes, device }: RouteQuestion): RouteStep {
  const kept = goal === 'reuse-device';
  return {
    type: 'heatbook.device.removed.v1',
    skill: 'removal',
    refdes,
    ...(device !== undefined && kept && { device }),
    fate: kept ? 'keep' : 'scrap',
    spends: { ...NOTHING, siteReworks: 1, siteExcursions: 1, deviceExcursions: kept ? 1 : 0 },
    spreads: true,
    minutes: MINUTES.removal,
    why: 'one rework of the site; one excursion of the site, and of the device if it is kept',
  };
}

function dressing({ refdes, dressing: method, area, passes }: RouteQuestion): RouteStep {
  const local = method === 'braid' || method === 'vacuum';
  return {
    type: 'heatbook.site.dressed.v1',
    skill: method,
    refdes,
    method,
    spends: { ...NOTHING, siteDressings: 1, siteExcursions: 1 },
    spreads: !local,
    minutes: dressingMinutes(method, area, passes),
    why: local ? 'one dressing; one local excursion of the site' : 'one dressing; one excursion of the site',
  };
}

function deballing(question: RouteQuestion): RouteStep {
  const method = question.deballing ?? question.dressing;
  const counts = method === 'fountain' || method === 'coupon';
  return {
    type: 'heatbook.device.deballed.v1',
    skill: method,
    ...(question.device !== undefined && { device: question.device }),
    method,
    spends: { ...NOTHING, deviceExcursions: counts ? 1 : 0 },
    spreads: false,
    minutes: dressingMinutes(method, question.area),
    why: counts ? 'one excursion of the device' : 'the die stays under the melting range: no excursion',
  };
}

function reballing({ device }: RouteQuestion): RouteStep {
  return {
    type: 'heatbook.device.reballed.v1',
    skill: 'reballing',
    ...(device !== undefined && { device }),
    spends: { ...NOTHING, deviceExcursions: 1 },
    spreads: false,
    minutes: MINUTES.reballing,
    why: 'one excursion of the device',
  };
}

function placement({ goal, refdes, device }: RouteQuestion): RouteStep {
  return {
    type: 'heatbook.device.placed.v1',
    skill: 'placement',
    refdes,
    ...(device !== undefined && goal === 'reuse-device' && { device }),
    spends: { ...NOTHING, siteExcursions: 1, deviceExcursions: 1 },
    spreads: true,
    minutes: MINUTES.placement,
    why: 'one excursion of the site and of the device',
  };
}
