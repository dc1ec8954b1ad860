import { Clearance } from '../../domain/clearance/clearance.js';
import { RemainingCopper } from '../../domain/copper/remaining-copper.js';
import { padCopper } from '../../domain/book/pad-wear.js';
import { clockOfUnit } from '../../domain/book/dry-rules.js';
import { UnitClock } from '../../domain/moisture/unit-clock.js';
import { SiteState, UnitState, Warning, World } from '../../domain/book/state.js';
import { compareText } from '../../domain/events/event-order.js';
import { Rules, SiteDesign } from '../../domain/setup/setup-data.js';
import { deviceOf } from '../../domain/book/evolve.js';
import { HoldRecord } from '../holds/hold-record.js';
import { BudgetView, budgetView } from './budget-view.js';
import { isAboard, worldOfUnit } from './devices-aboard.js';
import { HoldView, holdView } from './hold-view.js';
import { DeviceState } from '../../domain/book/state.js';

interface SiteView extends Pick<
  SiteState,
  'device' | 'condition' | 'alloys' | 'passes' | 'inspected' | 'remnant' | 'lead'
> {
  readonly refdes: string;
  readonly part: string | null;
  readonly side: SiteDesign['side'] | null;
  /** The device's own record has it somewhere else, or is not shown to this reader: one of the two is wrong. */
  readonly disputed: boolean;
  /** What its pads have left, estimated from a table of rates; null where the assembly no longer has the site. */
  readonly copper: RemainingCopper | null;
}

/** A unit as the book has it now. */
export interface UnitView {
  readonly assembly: string;
  readonly serial: string;
  /** Null where the setup no longer says whose the assembly is. */
  readonly customer: string | null;
  readonly state: UnitState['status'];
  readonly workOrder: string | null;
  readonly complaint: string | null;
  readonly received: boolean;
  readonly headHash: string;
  /** When its newest entry was written, RFC 3339 UTC. */
  readonly changedAt: string | null;
  readonly sites: readonly SiteView[];
  readonly budgets: readonly BudgetView[];
  /** Open holds on it, its sites and the devices aboard, oldest first. */
  readonly holds: readonly HoldView[];
  readonly warnings: readonly Warning[];
  /** That of the most sensitive device aboard: now, or when the unit left. */
  readonly moisture: UnitClock;
}

/** What a view of a unit is made from. */
export interface UnitFacts {
  readonly unit: UnitState;
  /** Those of the devices that its sites name which have a record. */
  readonly devices: readonly DeviceState[];
  /** Open holds on the unit and on those devices. */
  readonly holds: readonly HoldRecord[];
  /** Open clearances that are for the unit or reserve something of it or of those devices. */
  readonly clearances: readonly Clearance[];
  readonly headHash: string;
  readonly changedAt: string | null;
  /** RFC 3339: the moisture clock is read as of then. */
  readonly now: string;
}

export function unitView(facts: UnitFacts, rules: Rules): UnitView {
  const { unit, holds, headHash, changedAt } = facts;
  const world = worldOfUnit(unit, facts.devices, facts.clearances);
  const { assembly, serial, status, workOrder, complaint, received } = unit;
  const design = rules.find('assembly', assembly)?.body;
  const sites = inDesignOrder(unit, design?.sites ?? []).map(([refdes, site, siteDesign]) => {
    return siteView(world, rules, unit, refdes, site, siteDesign);
  });
  const aboard = sites.flatMap(({ device, disputed }) => (device === null || disputed ? [] : [device]));
  const warnings = aboard.flatMap((device) => deviceOf(world, device).warnings);
  return {
    ...{ assembly, serial, customer: design?.customer ?? null, state: status },
    ...{ workOrder, complaint, received, headHash, changedAt, sites },
    budgets: budgetsOf(world, rules, facts, sites),
    holds: holds.map(holdView),
    warnings: [...unit.warnings, ...warnings],
    // Nobody says where a board lies once it has left: its clock is told as it was then.
    moisture: clockOfUnit(world, rules, unit, hasLeft(unit) ? (unit.last?.at ?? facts.now) : facts.now),
  };
}

function hasLeft({ status }: UnitState): boolean {
  return status === 'shipped' || status === 'scrapped';
}

/** Sites as the assembly lists them; those that its newest revision dropped come last, by name. */
function inDesignOrder(
  unit: UnitState,
  design: readonly SiteDesign[],
): readonly (readonly [string, SiteState, SiteDesign | undefined])[] {
  const rank = new Map(design.map((site, index) => [site.refdes, index]));
  return Object.entries(unit.sites)
    .sort(([a], [b]) => (rank.get(a) ?? Infinity) - (rank.get(b) ?? Infinity) || compareText(a, b))
    .map(([refdes, site]) => [refdes, site, design.find((one) => one.refdes === refdes)]);
}

function siteView(
  world: World,
  rules: Rules,
  unit: UnitState,
  refdes: string,
  site: SiteState,
  design: SiteDesign | undefined,
): SiteView {
  const { device, condition, alloys, passes, inspected, remnant, lead } = site;
  const copper = padCopper({ site, siteDesign: design }, rules) ?? null;
  const carried = device === null ? undefined : world.devices.get(device);
  // A reader who may not see the device any more, since it is on another customer's board, must not see it as aboard.
  const disputed = device !== null && (carried === undefined || !isAboard(carried, unit, refdes));
  const part = design?.part ?? null;
  const side = design?.side ?? null;
  return { refdes, device, disputed, part, side, condition, alloys, passes, inspected, remnant, lead, copper };
}

function budgetsOf(world: World, rules: Rules, { unit, now }: UnitFacts, sites: readonly SiteView[]): BudgetView[] {
  const { assembly, serial } = unit;
  const ofSites = sites.flatMap(({ refdes, device, disputed }) => {
    const site = { kind: 'site', assembly, serial, refdes } as const;
    const own = (['site-reworks', 'site-dressings', 'site-excursions'] as const).map((kind) => {
      return budgetView(world, rules, site, kind, now);
    });
    if (device === null || disputed) return own;
    return [...own, budgetView(world, rules, { kind: 'device', device }, 'device-excursions', now)];
  });
  return [budgetView(world, rules, { kind: 'unit', assembly, serial }, 'unit-reflows', now), ...ofSites];
}
