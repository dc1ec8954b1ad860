import { Heat, ProfileRef } from '../events/heat.js';
import {
  CountingLine,
  DEVICE_POSITIONS,
  governingAlloy,
  MeasuredVerdict,
  measuredVerdict,
  NEIGHBOUR_SITE_POSITIONS,
  readingsAt,
  SITE_POSITIONS,
} from '../heat/excursion-verdict.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { resolveLimit } from '../limits/resolve-limit.js';
import { profileName } from '../setup/setup-data.js';
import { Subject } from '../subject/subject.js';
import { checkBodyPeak } from './body-rules.js';
import { budgetLimit, checkBudget, limitPlace } from './budgets.js';
import { checkTrace } from './check-trace.js';
import { checkDryBoard, checkFloorLife } from './dry-rules.js';
import { deviceSubject, hasSite, Judgement, SiteContext, siteContext, UnitContext } from './judgement.js';
import { deviceOn } from './open-subjects.js';
import { Inference } from './inference.js';
import { Count } from './tally.js';

export interface Grounds {
  readonly subject: Subject;
  readonly limit: BudgetKind;
  readonly verdict: MeasuredVerdict | undefined;
  readonly inference: Inference;
  /** Where a travelling device was. */
  readonly place?: { readonly unit: string; readonly refdes: string };
  /** A device on its way to scrap is counted, but not stopped. */
  readonly exempt?: boolean;
}

/** Counts one heat for one subject: by what was measured on it, or else by what its step is taken to do. */
export function countHeat(j: Judgement, grounds: Grounds): void {
  const { subject, limit, verdict, inference } = grounds;
  const count: Count = {
    event: { source: j.event.order.source, id: j.event.order.id },
    at: j.event.order.at,
    basis: verdict === undefined ? inference.basis : 'measured',
    why: verdict === undefined ? inference.why : inWords(verdict),
    ...grounds.place,
    ...(verdict && { verdict }),
  };
  const spends = verdict === undefined ? inference.spends : verdict.counts ? 'one' : 'clear';
  if (spends === 'none') return;
  const kind = spends === 'one' ? 'counted' : spends;
  j.emit({ kind, subject, limit, count });
  if (kind === 'clear' || grounds.exempt === true) return;
  // What is only possible breaks nothing, unless the limit says that it counts.
  const spent =
    kind === 'counted' || budgetLimit(j.world, j.rules, subject, limit, j.event.order.at)?.countPossible === true;
  if (spent) checkBudget(j, subject, limit);
}

function inWords(verdict: MeasuredVerdict): string {
  const { reading, alloy, solidusC, guardBandC, counts } = verdict;
  const line = `${alloy} solidus ${String(solidusC)} C less ${String(guardBandC)} C guard band`;
  const peak = `${reading.position} thermocouple ${reading.thermocouple} peaked at ${String(reading.peakC)} ±${String(reading.uncertaintyC)} C`;
  return `${peak}, ${counts ? 'at or above' : 'below'} ${line}`;
}

/** The line that readings at a subject are held against, with the guard band in force there. */
export function countingLine(j: Judgement, subject: Subject, alloys: readonly string[]): CountingLine {
  const guard = resolveLimit(j.rules, 'guard-band', limitPlace(j.world, j.rules, subject, j.event.order.at))?.allowed;
  const station = j.rules.find('station', j.event.station)?.body.thermocouple;
  return { alloys, guardBandC: typeof guard === 'number' ? guard : 0, station };
}

/** What a step does to its own site and the device on it when nothing was measured. */
export interface StepEffect {
  readonly site: Inference;
  readonly device: Inference | null;
  /** Heat that spreads to the neighbours: hot gas and a solder fountain do, a braid tip and a vacuum nozzle do not. */
  readonly spreads: boolean;
  readonly exemptDevice?: boolean;
}

/** Counts a local heat for its site, the device there and the neighbours. */
export function exposeSite(
  j: Judgement,
  at: SiteContext,
  heat: Heat | undefined,
  profile: ProfileRef | undefined,
  step: StepEffect,
): void {
  const readings = heat === undefined ? [] : readingsAt(heat, at.refdes, at.refdes);
  const siteLine = countingLine(j, at.siteSubject, at.site.alloys);
  if (readings.length > 0) warnUnknownAlloy(j, at);
  countHeat(j, {
    subject: at.siteSubject,
    limit: 'site-excursions',
    verdict: measuredVerdict(readings, SITE_POSITIONS, siteLine),
    inference: step.site,
  });
  const device = step.device && deviceOn(j, at);
  if (step.device && device) {
    const subject = deviceSubject(device.device);
    countHeat(j, {
      subject,
      limit: 'device-excursions',
      verdict: measuredVerdict(readings, DEVICE_POSITIONS, countingLine(j, subject, at.site.alloys)),
      inference: step.device,
      place: { unit: at.key, refdes: at.refdes },
      ...(step.exemptDevice === true && { exempt: true }),
    });
    if (step.exemptDevice !== true && step.device.spends !== 'none') {
      checkFloorLife(j, device);
      checkBodyPeak(j, device, readings);
    }
  }
  if (heat !== undefined && step.spreads) checkDryBoard(j, at, heat);
  checkTrace(j, at.siteSubject, heat, at.site.alloys);
  exposeNeighbours(j, at, heat, profile, step.spreads);
}

function exposeNeighbours(
  j: Judgement,
  at: SiteContext,
  heat: Heat | undefined,
  profile: ProfileRef | undefined,
  spreads: boolean,
): void {
  const measured = new Set(heat?.thermocouples.flatMap(({ refdes }) => (refdes === undefined ? [] : [refdes])));
  const listed = spreads ? (at.siteDesign?.neighbours.map(({ refdes }) => refdes) ?? []) : [];
  for (const refdes of new Set([...listed, ...measured])) {
    if (refdes === at.refdes) continue;
    if (!hasSite(at, refdes)) {
      warnUnplaced(j, at, refdes);
      continue;
    }
    exposeNeighbour(j, siteContext(j, at, refdes), at.refdes, heat, profile, listed.includes(refdes));
  }
}

/** A reading on the neighbour decides; then the peak its profile was qualified with; else an excursion is possible. */
function exposeNeighbour(
  j: Judgement,
  at: SiteContext,
  heated: string,
  heat: Heat | undefined,
  profile: ProfileRef | undefined,
  listed: boolean,
): void {
  const readings = heat === undefined ? [] : readingsAt(heat, at.refdes, undefined);
  const nothing: Inference = { spends: 'none', basis: 'inferred', why: 'no neighbour of the heat' };
  const siteInference = listed ? neighbourInference(j, at, at.siteSubject, heated, profile) : nothing;
  const siteLine = countingLine(j, at.siteSubject, at.site.alloys);
  const siteVerdict = measuredVerdict(readings, NEIGHBOUR_SITE_POSITIONS, siteLine);
  countHeat(j, {
    subject: at.siteSubject,
    limit: 'site-excursions',
    verdict: siteVerdict,
    inference: siteInference,
  });
  const device = deviceOn(j, at);
  if (device === undefined) {
    if (siteVerdict === undefined && siteInference.spends === 'possible') warnPossible(j, at.siteSubject, at.refdes);
    return;
  }
  const subject = deviceSubject(device.device);
  const verdict = measuredVerdict(readings, DEVICE_POSITIONS, countingLine(j, subject, at.site.alloys));
  const inference = listed ? neighbourInference(j, at, subject, heated, profile) : nothing;
  countHeat(j, { subject, limit: 'device-excursions', verdict, inference, place: { unit: at.key, refdes: at.refdes } });
  if (verdict === undefined && inference.spends === 'possible') warnPossible(j, subject, at.refdes);
  checkBodyPeak(j, device, readings);
}

function warnPossible(j: Judgement, subject: Subject, refdes: string): void {
  j.warn(
    'neighbour-possible',
    subject,
    `A heat beside ${refdes} may have been an excursion: nobody measured it and its profile says nothing of it.`,
    `Put a thermocouple on ${refdes}, or qualify the profile with its peak under neighbourPeaks.`,
  );
}

function neighbourInference(
  j: Judgement,
  at: SiteContext,
  subject: Subject,
  heated: string,
  profile: ProfileRef | undefined,
): Inference {
  const revision = profile && j.rules.find('profile', profileName(profile));
  // Peaks that were taken while another board or another site was heated say nothing of this one.
  const { assembly = at.state.assembly, site = heated } = revision?.body ?? {};
  const elsewhere = assembly !== at.state.assembly || site !== heated;
  const peak = elsewhere ? undefined : revision?.body.neighbourPeaks.find(({ refdes }) => refdes === at.refdes);
  const line = countingLine(j, subject, at.site.alloys);
  const alloy = governingAlloy(line.alloys);
  if (revision === undefined || peak === undefined || alloy === undefined) {
    return { spends: 'possible', basis: 'unknown', why: 'heat beside it, unmeasured' };
  }
  const counts = peak.peakC >= alloy.solidusC - line.guardBandC;
  const why = `profile ${revision.name} was qualified with ${String(peak.peakC)} C here, ${counts ? 'at or above' : 'below'} ${alloy.name} solidus ${String(alloy.solidusC)} C less ${String(line.guardBandC)} C`;
  return { spends: counts ? 'one' : 'none', basis: 'inferred', why };
}

/** Counts a whole-board pass for the unit, every site, and every device that is on one. */
export function exposeBoard(j: Judgement, unit: UnitContext, heat: Heat): void {
  const step: Inference = { spends: 'one', basis: 'inferred', why: 'whole-board reflow' };
  const allAlloys = [...new Set(Object.values(unit.state.sites).flatMap((site) => site.alloys))];
  countHeat(j, {
    subject: unit.subject,
    limit: 'unit-reflows',
    verdict: measuredVerdict(heat.thermocouples, SITE_POSITIONS, countingLine(j, unit.subject, allAlloys)),
    inference: step,
  });
  checkTrace(j, unit.subject, heat, allAlloys);
  for (const { refdes } of heat.thermocouples) {
    if (refdes !== undefined && !hasSite(unit, refdes)) warnUnplaced(j, unit, refdes);
  }
  for (const refdes of Object.keys(unit.state.sites)) {
    const at = siteContext(j, unit, refdes);
    exposeSiteInOven(j, at, heat, step);
  }
}

function exposeSiteInOven(j: Judgement, at: SiteContext, heat: Heat, step: Inference): void {
  const readings = readingsAt(heat, at.refdes, undefined);
  countHeat(j, {
    subject: at.siteSubject,
    limit: 'site-excursions',
    verdict: measuredVerdict(readings, SITE_POSITIONS, countingLine(j, at.siteSubject, at.site.alloys)),
    inference: step,
  });
  const device = deviceOn(j, at);
  if (device === undefined) return;
  const subject = deviceSubject(device.device);
  countHeat(j, {
    subject,
    limit: 'device-excursions',
    verdict: measuredVerdict(readings, DEVICE_POSITIONS, countingLine(j, subject, at.site.alloys)),
    inference: step,
    place: { unit: at.key, refdes: at.refdes },
  });
  checkBodyPeak(j, device, readings);
}

function warnUnplaced(j: Judgement, unit: UnitContext, refdes: string): void {
  j.warn(
    'thermocouple-unplaced',
    unit.subject,
    `A thermocouple is said to be on ${refdes}, which assembly ${unit.state.assembly} does not have.`,
    `Correct the channel's refdes at the station, or add ${refdes} to the assembly.`,
  );
}

function warnUnknownAlloy(j: Judgement, at: SiteContext): void {
  if (governingAlloy(at.site.alloys) !== undefined) return;
  j.warn(
    'alloy-unknown',
    at.siteSubject,
    `The melting range of ${at.site.alloys.join(', ')} is not known, so readings at ${at.refdes} could not be judged.`,
    'Name the alloy by one that the house knows.',
  );
}
