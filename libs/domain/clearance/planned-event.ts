import { siteIn } from '../book/evolve.js';
import { World } from '../book/state.js';
import { orderTime } from '../events/event-order.js';
import { CommonData, StationEvent } from '../events/station-event.js';
import { DRESSING_METHOD_FACTS } from '../plan/dressing-methods.js';
import { Rules } from '../setup/setup-data.js';
import { deviceKey, StreamKey } from '../subject/subject.js';
import { PlannedStep } from './clearance.js';

/** Where planned steps come from in the order of things; no station can be called so. */
export const PLAN_SOURCE = '/clearances/plan';
/** Stands for the new device of a placement that names none. No device can be called so. */
export const UNNAMED = '(unnamed)';
/** Stands for the profile of a step that names none. No profile can be called so. */
export const NO_PROFILE = { name: '(none)', revision: '-' };

/** What all steps of a plan have in common. */
export interface PlanFrame {
  readonly clearance: string;
  /** The unit or loose device that the clearance is for. */
  readonly subject: StreamKey;
  readonly station: string;
  readonly operator: string;
  /** RFC 3339: when the steps are taken to happen. */
  readonly at: string;
}

/**
 * The event that a planned step would be: unmeasured, so that every target counts as its step does. What the plan does not
 * say is taken on the safe side: a removed device is kept, a heat is a touch-up that melts, a dressing takes one pass of
 * the seconds that the house assumes of its method, and without a profile nothing is known to stay cool.
 * @param device the device that the step is for, where one is known.
 */
export function plannedEvent(
  frame: PlanFrame,
  step: PlannedStep,
  place: number,
  device: string | null,
  world: World,
  rules: Rules,
): StationEvent {
  const { clearance, operator, station, at: time } = frame;
  const order = { at: orderTime(time), source: PLAN_SOURCE, id: String(place).padStart(3, '0') };
  const head = { subject: frame.subject, station, order, time };
  const common: CommonData = { operator, clearance };
  const heat = { startedAt: time, endedAt: time, thermocouples: [] };
  const { refdes = '', method = 'braid', profile = NO_PROFILE } = step;
  const own = step.profile === undefined ? {} : { profile };
  switch (step.type) {
    case 'heatbook.unit.reflowed.v1':
      return { ...head, type: step.type, data: { ...common, profile, heat } };
    case 'heatbook.device.removed.v1': {
      const named = step.device === undefined ? {} : { device: step.device };
      return {
        ...head,
        type: step.type,
        data: { ...common, refdes, fate: step.fate ?? 'keep', profile, heat, ...named },
      };
    }
    case 'heatbook.site.dressed.v1': {
      const { passes = 1, solderC, flowing, contactSeconds } = step;
      const seconds = contactSeconds ?? DRESSING_METHOD_FACTS[method].contactSeconds * passes;
      const solderAlloy = step.solderAlloy ?? alloyAt(world, rules, frame.subject, refdes);
      const more = { ...(solderC !== undefined && { solderC }), ...(flowing !== undefined && { flowing }) };
      const data = { ...common, refdes, method, solderAlloy, passes, contactSeconds: seconds, ...more, ...own };
      return { ...head, type: step.type, data };
    }
    case 'heatbook.device.placed.v1': {
      const { attach = 'flux', part, pasteAlloy, pasteVolumeMm3 } = step;
      const paste = {
        ...(pasteAlloy !== undefined && { pasteAlloy }),
        ...(pasteVolumeMm3 !== undefined && { pasteVolumeMm3 }),
      };
      const data = { ...common, refdes, device: device ?? UNNAMED, attach, profile, heat, ...paste };
      return { ...head, type: step.type, data: part === undefined ? data : { ...data, part } };
    }
    case 'heatbook.site.heated.v1':
      return {
        ...head,
        type: step.type,
        data: { ...common, refdes, purpose: step.purpose ?? 'touch-up', heat, ...own },
      };
    case 'heatbook.device.deballed.v1':
      return { ...head, subject: subjectOf(frame, device), type: step.type, data: { ...common, method } };
    case 'heatbook.device.reballed.v1': {
      const { ballAlloy = ballsOf(world, rules, device), ballDiameterMm = 0.5 } = step;
      const data = { ...common, ballAlloy, ballDiameterMm, heat };
      return { ...head, subject: subjectOf(frame, device), type: step.type, data };
    }
  }
}

function subjectOf({ subject }: PlanFrame, device: string | null): StreamKey {
  return device === null ? subject : deviceKey(device);
}

/** Solder that lies on the site by now. */
function alloyAt(world: World, rules: Rules, unit: StreamKey, refdes: string): string {
  const state = world.units.get(unit);
  const remnant = state === undefined ? undefined : siteIn(state, refdes)?.remnant.alloy;
  const design = state && rules.find('assembly', state.assembly)?.body.sites.find((site) => site.refdes === refdes);
  return remnant !== undefined && remnant !== '' ? remnant : (design?.jointAlloy ?? '');
}

/** Balls like those that its part comes with. */
function ballsOf(world: World, rules: Rules, device: string | null): string {
  const part = device === null ? null : (world.devices.get(device)?.part ?? null);
  return (part === null ? undefined : rules.find('part', part)?.body.ballAlloy) ?? '';
}
