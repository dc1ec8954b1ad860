import { evolve, siteIn } from '../book/evolve.js';
import { Judgement } from '../book/judgement.js';
import { ensureDevice, ensureUnit } from '../book/open-subjects.js';
import { World } from '../book/state.js';
import { Count } from '../book/tally.js';
import { orderTime } from '../events/event-order.js';
import { StationEvent } from '../events/station-event.js';
import { Rules } from '../setup/setup-data.js';
import { parseStream, Subject } from '../subject/subject.js';
import { Clearance, PlannedStep, reservationsOf } from './clearance.js';
import { PlanFrame } from './planned-event.js';
import { RESERVED_SOURCE } from './plan-verdict.js';
import { knownAs } from './reserved-of.js';

/**
 * Lays on the tallies of a scratch world what other clearances hold back of them. What the plan is about is opened first
 * where the book has not heard of it, since several clearances may reserve of it before anything is posted.
 * @param others open clearances that reach the same subjects
 */
export function layReservations(
  world: World,
  rules: Rules,
  frame: PlanFrame,
  plans: readonly PlannedStep[],
  others: readonly Clearance[],
): void {
  openUnit(world, rules, frame);
  openNewcomers(world, rules, frame, plans);
  reserve(world, others, frame.at, unreadNames(world, frame, plans));
}

/** A unit that nobody has told of yet is as its assembly was built; what clearances reserve of it can be laid on then. */
function openUnit(world: World, rules: Rules, frame: PlanFrame): void {
  const stream = parseStream(frame.subject);
  const design = stream?.kind === 'unit' ? rules.find('assembly', stream.assembly)?.body : undefined;
  if (stream?.kind !== 'unit' || design === undefined) return;
  ensureUnit(opening(world, rules, frame), stream.assembly, stream.serial, design);
}

/** An event that stands for none, for what is opened before the first step. */
function opening(world: World, rules: Rules, frame: PlanFrame): Judgement {
  const event: StationEvent = {
    type: 'heatbook.unit.scrapped.v1',
    subject: frame.subject,
    station: frame.station,
    time: frame.at,
    order: { at: orderTime(frame.at), source: RESERVED_SOURCE, id: 'opening' },
    data: {},
  };
  return new Judgement(world, rules, event);
}

/**
 * Devices that the book hears of first by this plan: several clearances may reserve of one before anything is posted of
 * it. One that a removal of the plan reads the label of is no newcomer, but what the site carries.
 */
function openNewcomers(world: World, rules: Rules, frame: PlanFrame, plans: readonly PlannedStep[]): void {
  const stream = parseStream(frame.subject);
  const read = new Set(plans.flatMap(({ type, device }) => (type === 'heatbook.device.removed.v1' ? [device] : [])));
  const design = stream?.kind === 'unit' ? rules.find('assembly', stream.assembly)?.body : undefined;
  const loose = stream?.kind === 'device' ? [{ device: stream.device, part: null }] : [];
  const named = plans.flatMap(({ type, device, refdes, part }) => {
    if (device === undefined || read.has(device)) return [];
    const sitePart = design?.sites.find((site) => site.refdes === refdes)?.part ?? null;
    return [{ device, part: type === 'heatbook.device.placed.v1' ? (part ?? sitePart) : null }];
  });
  // A placement knows the part, a step on the loose device before it does not.
  const known = new Map([...loose, ...named].flatMap(({ device, part }) => (part === null ? [] : [[device, part]])));
  const j = opening(world, rules, frame);
  for (const { device } of [...loose, ...named]) ensureDevice(j, device, known.get(device) ?? null);
}

/** Names that the plan's removals read of devices that are anonymous so far, with what these are called now. */
function unreadNames(world: World, frame: PlanFrame, plans: readonly PlannedStep[]): ReadonlyMap<string, string> {
  const unit = world.units.get(frame.subject);
  const rows = plans.flatMap(({ type, device, refdes = '' }) => {
    if (type !== 'heatbook.device.removed.v1' || device === undefined || world.devices.has(device)) return [];
    const carried = unit && siteIn(unit, refdes)?.device;
    return carried === undefined || carried === null ? [] : [[device, carried] as const];
  });
  return new Map(rows);
}

/** Lays on the tallies what other clearances hold back of them. */
function reserve(world: World, others: readonly Clearance[], at: string, unread: ReadonlyMap<string, string>): void {
  for (const clearance of others) {
    for (const { subject: wanted, limit, counted, possible } of reservationsOf(clearance)) {
      const carried = wanted.kind === 'device' ? unread.get(wanted.device) : undefined;
      const subject = carried === undefined ? knownAs(world, wanted) : { kind: 'device' as const, device: carried };
      if (!isHere(world, subject)) continue;
      const count: Count = {
        event: { source: RESERVED_SOURCE, id: clearance.id },
        at: orderTime(at),
        basis: 'declared',
        why: `reserved by clearance ${clearance.id}`,
      };
      for (let n = 0; n < counted; n += 1) evolve(world, { kind: 'counted', subject, limit, count });
      for (let n = 0; n < possible; n += 1) evolve(world, { kind: 'possible', subject, limit, count });
    }
  }
}

function isHere(world: World, subject: Subject): boolean {
  if (subject.kind === 'device') return world.devices.has(subject.device);
  const unit = world.units.get(`${subject.assembly}/${subject.serial}`);
  return unit !== undefined && (subject.kind === 'unit' || Object.hasOwn(unit.sites, subject.refdes));
}
