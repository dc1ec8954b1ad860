import { siteIn } from '../../domain/book/evolve.js';
import { SiteState, UnitState, World } from '../../domain/book/state.js';
import { ProfileRef } from '../../domain/events/heat.js';
import { governingAlloy } from '../../domain/heat/excursion-verdict.js';
import { LimitPlace, resolveLimit } from '../../domain/limits/resolve-limit.js';
import { PlanNeighbour, PlanProfiles, SpreadingStep } from '../../domain/plan/plan-question.js';
import {
  AssemblyDesign,
  ProfileData,
  profileName,
  profileRef,
  Rules,
  SiteDesign,
} from '../../domain/setup/setup-data.js';
import { SetupBook } from '../setup/setup-book.js';
import { planBudget } from './plan-budget.js';

const STEPS: readonly SpreadingStep[] = ['removal', 'placement', 'fountain', 'coupon'];

interface Around {
  readonly world: World;
  readonly rules: Rules;
  readonly unit: UnitState;
  readonly design: AssemblyDesign;
  readonly siteDesign: SiteDesign;
  /** The site's own, with the time that limits are asked for. */
  readonly place: LimitPlace;
}

/** By which profile each spreading step of a site would be done: the one named, or that of the setup. */
export function planProfiles(at: Around, setup: SetupBook, named: PlanProfiles = {}): PlanProfiles {
  const rows = STEPS.flatMap((step) => {
    const ref = profileFor(at, setup, step, named[step]);
    return ref === undefined ? [] : [[step, ref] as const];
  });
  return Object.fromEntries(rows);
}

/** The listed neighbours of a site: what each spreading step would do to them by its profile, and what they have left. */
export function planNeighbours(at: Around, used: PlanProfiles): PlanNeighbour[] {
  const profiles = new Map(
    STEPS.map((step) => {
      const ref = used[step];
      return [step, ref === undefined ? undefined : at.rules.find('profile', profileName(ref))?.body];
    }),
  );
  return at.siteDesign.neighbours.flatMap(({ refdes }) => {
    const site = siteIn(at.unit, refdes);
    return site === undefined ? [] : [neighbourOf(at, refdes, site, profiles)];
  });
}

function neighbourOf(
  { world, rules, unit, design, place: { at } }: Around,
  refdes: string,
  site: SiteState,
  profiles: ReadonlyMap<SpreadingStep, ProfileData | undefined>,
): PlanNeighbour {
  const part = design.sites.find((one) => one.refdes === refdes)?.part;
  const { assembly, serial } = unit;
  const subject = { kind: 'site', assembly, serial, refdes } as const;
  const place: LimitPlace = { customer: design.customer, assembly, part, refdes, subject, at };
  const verdict = (step: SpreadingStep): 'counts' | 'clear' | 'possible' =>
    verdictOf(rules, place, site, profiles.get(step), refdes);
  const verdicts = {
    removal: verdict('removal'),
    placement: verdict('placement'),
    fountain: verdict('fountain'),
    coupon: verdict('coupon'),
  };
  const device = site.device === null ? undefined : world.devices.get(site.device)?.device;
  const budget =
    device === undefined ? undefined : planBudget(world, rules, place, { kind: 'device', device }, 'device-excursions');
  return { refdes, verdicts, ...(budget && { budget, countPossible: budget.countPossible }) };
}

/** By the peak that the profile was qualified with; without one an excursion is possible. */
function verdictOf(
  rules: Rules,
  place: LimitPlace,
  site: SiteState,
  profile: ProfileData | undefined,
  refdes: string,
): 'counts' | 'clear' | 'possible' {
  const peak = profile?.neighbourPeaks.find((one) => one.refdes === refdes)?.peakC;
  const alloy = governingAlloy(site.alloys);
  if (peak === undefined || alloy === undefined) return 'possible';
  const guard = resolveLimit(rules, 'guard-band', place)?.allowed;
  return peak >= alloy.solidusC - (typeof guard === 'number' ? guard : 0) ? 'counts' : 'clear';
}

/** The profile named, unless it is for another assembly; or the newest that is for this site and whose purpose is the step. */
function profileFor(
  at: Around,
  setup: SetupBook,
  step: SpreadingStep,
  named: ProfileRef | undefined,
): ProfileRef | undefined {
  if (named !== undefined) {
    const found = at.rules.find('profile', profileName(named))?.body;
    if (found === undefined) return undefined;
    return found.assembly === undefined || found.assembly === at.unit.assembly ? named : undefined;
  }
  const fitting = setup.all('profile').flatMap((revision) => {
    if (revision.kind !== 'profile') return [];
    const { assembly, site, purpose } = revision.body;
    return assembly === at.unit.assembly && site === at.siteDesign.refdes && purpose === step ? [revision] : [];
  });
  const newest = fitting.sort((a, b) => a.version - b.version).at(-1);
  return newest && profileRef(newest.name);
}
