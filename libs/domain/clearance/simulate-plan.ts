import { applyEvent } from '../book/apply-event.js';
import { Effect } from '../book/effect.js';
import { World } from '../book/state.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { Rules } from '../setup/setup-data.js';
import { deviceKey, parseStream, Subject, subjectKey } from '../subject/subject.js';
import { Clearance, ClearanceStep, PlannedStep, Reservation } from './clearance.js';
import { layReservations } from './lay-reservations.js';
import { dryBeforeHeat } from './dry-before-heat.js';
import { PlanDevices } from './plan-devices.js';
import { PlanFrame, plannedEvent, UNNAMED } from './planned-event.js';
import { budgetsAsked, PlanReason, PlanSpend, PlanWarning, reasonsOf, warningsOf } from './plan-verdict.js';

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
  layReservations(world, rules, frame, plans, others);
  const damp = dryBeforeHeat(world, rules, frame, plans);
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
    warnings: [...stationUnknown(rules, frame), ...damp, ...warningsOf(effects, plans)],
  };
}

const NOTHING: PlanOutcome = { steps: [], reaches: [], spends: [], reasons: [], warnings: [] };

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

/** Of a station that the setup does not have, neither calibration nor holds are known. */
function stationUnknown(rules: Rules, frame: PlanFrame): readonly PlanWarning[] {
  const { station } = frame;
  if (rules.find('station', station) !== undefined) return [];
  return [
    {
      code: 'station-unknown',
      subject: ownSubject(frame),
      detail: `Station ${station} is not in the setup, so nothing is known of its calibration.`,
      remedy: `Correct the name of the station, or enter it with PUT /v1/stations/${station}.`,
    },
  ];
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
