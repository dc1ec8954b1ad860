import { applyEvent } from '../book/apply-event.js';
import { Effect } from '../book/effect.js';
import { evolve } from '../book/evolve.js';
import { Judgement } from '../book/judgement.js';
import { ensureUnit } from '../book/open-subjects.js';
import { World } from '../book/state.js';
import { Count } from '../book/tally.js';
import { orderTime } from '../events/event-order.js';
import { StationEvent } from '../events/station-event.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { Rules } from '../setup/setup-data.js';
import { deviceKey, parseStream, Subject, subjectKey } from '../subject/subject.js';
import { Clearance, ClearanceStep, PlannedStep, Reservation, reservationsOf } from './clearance.js';
import { PlanDevices } from './plan-devices.js';
import { PlanFrame, plannedEvent, UNNAMED } from './planned-event.js';
import {
  budgetsAsked,
  PlanReason,
  PlanSpend,
  PlanWarning,
  reasonsOf,
  RESERVED_SOURCE,
  warningsOf,
} from './plan-verdict.js';
import { knownAs } from './reserved-of.js';

/** What a step works on, or is known to heat by more than possibility: its sites and devices, by subject key. */
export interface StepReach {
  readonly plan: PlannedStep;
  readonly device: string | null;
  readonly subjects: ReadonlySet<string>;
}

export interface PlanOutcome {
  readonly steps: readonly ClearanceStep[];
  readonly reaches: readonly StepReach[];
  readonly spends: readonly PlanSpend[];
  /** Why it may not be done; empty where the rules have nothing against it. */
  readonly reasons: readonly PlanReason[];
  readonly warnings: readonly PlanWarning[];
}

/**
 * Lets planned steps happen in a world that is thrown away afterwards, by the same fold that judges facts, and tells what
 * they would spend and break. What other clearances hold back counts as spent, so that the fold itself judges used,
 * reserved and asked together.
 * @param world scratch copies: they are spoilt
 * @param others open clearances that reach the same subjects
 * @throws Error where `world` lacks a subject that the steps reach.
 */
export function simulatePlan(
  world: World,
  rules: Rules,
  frame: PlanFrame,
  plans: readonly PlannedStep[],
  others: readonly Clearance[],
): PlanOutcome {
  openUnit(world, rules, frame);
  reserve(world, others, frame.at);
  const causesBefore = world.causes.length;
  const devices = new PlanDevices(world, frame.subject);
  const planned: Clearance = {
    id: frame.clearance,
    subject: frame.subject,
    grantedAt: frame.at,
    expiresAt: '9999-12-31T23:59:59Z',
    returnedAt: null,
    steps: [],
  };
  world.clearances.set(frame.clearance, planned);
  const effects: Effect[] = [];
  const reaches: StepReach[] = [];
  const asked: Reservation[] = [];
  const parked: PlanReason[] = [];
  for (const [place, plan] of plans.entries()) {
    const device = devices.next(plan);
    if (device === null && isOnLooseDevice(plan)) return { ...NOTHING, reasons: [deviceMissing(frame, plan)] };
    planned.steps.push({ plan, device, reserves: [], use: null });
    const event = plannedEvent(frame, plan, place + 1, device, world, rules);
    const outcome = applyEvent(world, event, rules);
    if (outcome.state === 'parked') {
      parked.push({ ...outcome.reason, subject: ownSubject(frame), remedy: remedyOf(outcome.reason) });
      break;
    }
    effects.push(...outcome.effects);
    const reserves = reservesOf(outcome.effects);
    planned.steps[place] = { plan, device: planned.steps[place]?.device ?? device, reserves, use: null };
    asked.push(...reserves);
    reaches.push({ plan, device, subjects: reached(frame, plan, device, outcome.effects) });
  }
  const causes = world.causes.slice(causesBefore);
  const budgets = budgetsAsked(world, rules, asked, frame.at);
  return {
    steps: planned.steps.map((step) => ({ ...step, use: null })),
    reaches,
    spends: budgets.filter(({ asked: amount }) => amount > 0),
    reasons: [...parked, ...reasonsOf(causes, budgets, others)],
    warnings: warningsOf(effects, plans),
  };
}

const NOTHING: PlanOutcome = { steps: [], reaches: [], spends: [], reasons: [], warnings: [] };

/** A unit that nobody has told of yet is as its assembly was built; what clearances reserve of it can be laid on then. */
function openUnit(world: World, rules: Rules, frame: PlanFrame): void {
  const stream = parseStream(frame.subject);
  const design = stream?.kind === 'unit' ? rules.find('assembly', stream.assembly)?.body : undefined;
  if (stream?.kind !== 'unit' || design === undefined) return;
  const event: StationEvent = {
    type: 'heatbook.unit.scrapped.v1',
    subject: frame.subject,
    station: frame.station,
    time: frame.at,
    order: { at: orderTime(frame.at), source: RESERVED_SOURCE, id: 'opening' },
    data: {},
  };
  ensureUnit(new Judgement(world, rules, event), stream.assembly, stream.serial, design);
}

/** Lays on the tallies what other clearances hold back of them. */
function reserve(world: World, others: readonly Clearance[], at: string): void {
  for (const clearance of others) {
    for (const { subject: wanted, limit, counted, possible } of reservationsOf(clearance)) {
      const subject = knownAs(world, wanted);
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

/** What the effects of a step spend, by subject and limit. A new device without a name cannot be held for. */
function reservesOf(effects: readonly Effect[]): Reservation[] {
  const found = new Map<string, { subject: Subject; limit: BudgetKind; counted: number; possible: number }>();
  for (const effect of effects) {
    if (effect.kind !== 'counted' && effect.kind !== 'possible') continue;
    const { subject, limit } = effect;
    if (subject.kind === 'device' && subject.device === UNNAMED) continue;
    const key = `${limit} ${subjectKey(subject)}`;
    const row = found.get(key) ?? { subject, limit, counted: 0, possible: 0 };
    row[effect.kind] += 1;
    found.set(key, row);
  }
  return [...found.values()];
}

function reached(
  frame: PlanFrame,
  plan: PlannedStep,
  device: string | null,
  effects: readonly Effect[],
): ReadonlySet<string> {
  const counted = effects.flatMap((effect) => (effect.kind === 'counted' ? [subjectKey(effect.subject)] : []));
  const site = plan.refdes === undefined ? [] : [`${frame.subject}#${plan.refdes}`];
  return new Set([...counted, ...site, ...(device === null ? [] : [deviceKey(device)])]);
}

function isOnLooseDevice({ type }: PlannedStep): boolean {
  return type === 'heatbook.device.deballed.v1' || type === 'heatbook.device.reballed.v1';
}

function deviceMissing(frame: PlanFrame, plan: PlannedStep): PlanReason {
  return {
    code: 'device-missing',
    subject: ownSubject(frame),
    detail: `The plan does not say which device ${plan.type} is for.`,
    remedy: 'Name the device of the step, or plan its removal with fate keep before.',
  };
}

function ownSubject({ subject }: PlanFrame): Subject {
  const stream = parseStream(subject);
  if (stream?.kind === 'unit') return { kind: 'unit', assembly: stream.assembly, serial: stream.serial };
  return { kind: 'device', device: stream?.kind === 'device' ? stream.device : subject };
}

/** What would mend a plan that the setup does not fit; the fold's own words are about an event. */
function remedyOf({ code, remedy }: { readonly code: string; readonly remedy: string }): string {
  if (code === 'unknown-assembly') return 'Enter the assembly (PUT /v1/assemblies/{assembly}), then ask again.';
  if (code === 'unknown-site')
    return 'Correct the reference designator, or add the site to the assembly, then ask again.';
  return remedy;
}
