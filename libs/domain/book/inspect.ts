import { DefectCode, EventOf, InspectionTarget } from '../events/station-event.js';
import { DAMAGE } from '../damage/dressing-outcomes.js';
import { judgeFlatness } from '../flatness/judge-flatness.js';
import { Subject } from '../subject/subject.js';
import { keepMeasuredLead, measuredLeadBreach } from './lead-rules.js';
import { deviceSubject, Judgement, SiteContext, siteContext, tellBreach, UnitContext } from './judgement.js';
import { deviceOn, ensureDevice } from './open-subjects.js';
import { whereabouts } from './receive.js';
import { SiteCondition, SiteState } from './state.js';
import { breakRule, ruleFor } from './station-rules.js';

type Inspection = EventOf<'heatbook.inspection.recorded.v1'>;

/** An inspection of a unit, a site on it, or the device on a site. */
export function unitInspected(j: Judgement<Inspection>, unit: UnitContext): void {
  const inspected = inspectedSites(j, unit);
  const subject = inspectedSubject(j, unit, inspected[0]);
  checkDamage(j, subject);
  checkMeasures(j, subject);
  const { leadPct, target } = j.event.data;
  for (const at of inspected) {
    checkFlatness(j, at);
    if (leadPct !== undefined && target.kind === 'site') keepMeasuredLead(j, at, leadPct);
  }
  for (const at of inspected) recordResult(j, at, j.event.data.target.kind);
}

function inspectedSubject(j: Judgement<Inspection>, unit: UnitContext, at: SiteContext | undefined): Subject {
  const { target } = j.event.data;
  if (target.kind === 'site') return at?.siteSubject ?? unit.subject;
  if (target.kind === 'unit') return unit.subject;
  const aboard = at && deviceOn(j, at);
  if (target.device !== undefined && target.refdes !== undefined && aboard?.device !== target.device) {
    j.hold(
      'identity-conflict',
      deviceSubject(target.device),
      {
        summary: `Device ${target.device} was inspected on ${target.refdes} of ${unit.key}, but the book has it ${whereabouts(j, target.device)}.`,
      },
      'Read the label again and correct the record that is wrong.',
    );
  }
  if (target.device !== undefined) return deviceSubject((aboard ?? ensureDevice(j, target.device, null)).device);
  return aboard === undefined ? unit.subject : deviceSubject(aboard.device);
}

/** An inspection of a loose device. */
export function deviceInspected(j: Judgement<Inspection>, device: string): void {
  checkDamage(j, deviceSubject(device));
  checkMeasures(j, deviceSubject(device));
}

/** A unit's inspection speaks for every site that a device was placed on. */
function inspectedSites(j: Judgement<Inspection>, unit: UnitContext): SiteContext[] {
  const { kind, refdes, device } = j.event.data.target;
  const isMeant = (name: string, site: SiteState): boolean => {
    if (kind === 'unit') return site.placed;
    if (refdes !== undefined) return name === refdes;
    return device !== undefined && site.device === device;
  };
  const meant = Object.entries(unit.state.sites).filter(([name, site]) => isMeant(name, site));
  return meant.map(([name]) => siteContext(j, unit, name));
}

function recordResult(j: Judgement<Inspection>, at: SiteContext, kind: InspectionTarget['kind']): void {
  const { technique, result, defects = [] } = j.event.data;
  j.emit({ kind: 'inspected', unit: at.key, refdes: at.refdes, technique, result });
  const codes = defects.map(({ code }) => code);
  // What a look at the whole unit found is somewhere on it; residues alone are cleaned off everywhere.
  const speaks = kind === 'site' || (kind === 'unit' && codes.every((code) => code === 'contamination'));
  const condition = nextCondition(at, result, speaks ? codes : []);
  if (condition !== at.site.condition) j.emit({ kind: 'site', unit: at.key, refdes: at.refdes, condition });
}

/** Where a result sends the site: remnants back to dressing, residues to cleaning, a bad joint to rework. */
function nextCondition(at: SiteContext, result: 'pass' | 'fail', codes: readonly DefectCode[]): SiteCondition {
  const { condition, device } = at.site;
  if (result === 'pass') {
    const settled = condition === 'to-clean' || condition === 'to-dress' || condition === 'to-rework';
    return settled ? (device === null ? 'dressed' : 'fitted') : condition;
  }
  if (codes.some((code) => DAMAGE.includes(code))) return 'damaged';
  if (codes.length > 0 && codes.every((code) => code === 'contamination')) return 'to-clean';
  if (codes.length > 0 && codes.every((code) => code === 'contamination' || code === 'residual-solder'))
    return 'to-dress';
  return device === null ? condition : 'to-rework';
}

function checkDamage(j: Judgement<Inspection>, subject: Subject): void {
  const { result, defects = [], technique } = j.event.data;
  const damage = defects.filter(({ code }) => DAMAGE.includes(code));
  if (result !== 'fail' || damage.length === 0) return;
  const details = damage.map(({ code, pads }) => (pads === undefined ? code : `${code}: pads ${pads.join(', ')}`));
  j.hold(
    'damage-found',
    subject,
    { summary: `Inspection (${technique}) found ${damage.map(({ code }) => code).join(', ')}.`, details },
    'Have quality decide between repair by an approved procedure and scrap; agree a repair with the customer.',
  );
}

function checkMeasures(j: Judgement<Inspection>, subject: Subject): void {
  const { voids = [], leadPct } = j.event.data;
  const voidLimit = ruleFor(j, 'void-fraction-max', subject);
  const most = typeof voidLimit?.allowed === 'number' ? voidLimit.allowed : undefined;
  const over = most === undefined ? [] : voids.filter(({ fraction }) => fraction > most);
  if (voidLimit !== undefined && most !== undefined && over.length > 0) {
    breakRule(
      j,
      voidLimit,
      subject,
      `Joints with more than ${String(most)} of their area void: ${String(over.length)} of ${String(voids.length)}.`,
      'Have quality decide whether the joints are reflowed, the device replaced, or the customer asked.',
      over.map(({ joint, fraction }) => `${joint}: ${String(fraction)}`),
    );
  }
  const leadLimit = leadPct === undefined ? undefined : ruleFor(j, 'joint-lead-max', subject);
  if (leadLimit === undefined || leadPct === undefined || !isLeadFree(j)) return;
  const breach = measuredLeadBreach(leadPct, leadLimit);
  if (breach !== undefined) tellBreach(j, subject, breach);
}

/** Holds a height map of a site against the flatness that its pitch allows. A map too poor to judge is worth a word. */
function checkFlatness(j: Judgement<Inspection>, at: SiteContext): void {
  const { heightsUm, target } = j.event.data;
  if (heightsUm === undefined || target.kind !== 'site' || at.siteDesign === undefined) return;
  const limit = ruleFor(j, 'flatness-max', at.siteSubject);
  if (limit === undefined) return;
  const verdict = judgeFlatness(heightsUm, at.siteDesign.ballPitchMm, limit.allowed);
  if (verdict.kind === 'problem') {
    j.warn(
      'flatness-max',
      at.siteSubject,
      `The height map of ${at.refdes} cannot be judged: ${verdict.detail}`,
      verdict.remedy,
    );
    return;
  }
  if (verdict.passes !== false) return;
  breakRule(
    j,
    limit,
    at.siteSubject,
    `${at.refdes} is not flat enough: ${verdict.why} (least squares: ${verdict.leastSquaresMm.toFixed(3)} mm).`,
    'Dress the site again and measure it, or have quality decide.',
  );
}

/** Lead is limited where the assembly must be free of it. */
function isLeadFree(j: Judgement<Inspection>): boolean {
  const unit = j.world.units.get(j.event.subject);
  return unit !== undefined && j.rules.find('assembly', unit.assembly)?.body.leadFree === true;
}
