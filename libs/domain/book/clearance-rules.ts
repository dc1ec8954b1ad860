import { Clearance, ClearanceStep, isClearedType, PlannedStep } from '../clearance/clearance.js';
import { orderTime } from '../events/event-order.js';
import { EventOf, StationEvent } from '../events/station-event.js';
import { deviceKey } from '../subject/subject.js';
import { siteIn } from './evolve.js';
import { Judgement } from './judgement.js';
import { World } from './state.js';
import { breakRule, ownSubject, ruleFor } from './station-rules.js';

/**
 * Holds a step that heats or spends against the clearance it names, and marks what it uses of it. A step that nobody
 * cleared breaks `clearance-required`; what it did is counted all the same.
 */
export function checkClearance(j: Judgement): void {
  const { event } = j;
  const subject = ownSubject(event);
  if (subject === undefined || !isClearedType(event.type)) return;
  const { used, fault } = judgeClearance(j.world, event);
  if (used !== undefined) {
    const { source, id } = event.order;
    j.emit({ kind: 'clearance-used', clearance: used.clearance, step: used.step, event: { source, id } });
  }
  const limit = fault === undefined ? undefined : ruleFor(j, 'clearance-required', subject);
  if (fault === undefined || limit === undefined) return;
  breakRule(
    j,
    limit,
    subject,
    `${event.type} was done ${used === undefined ? 'without clearance' : 'otherwise than cleared'}: ${fault}`,
    'Ask for clearance before the heat (POST /v1/clearances) and name it in the event; have quality look at what was spent.',
  );
}

interface ClearanceVerdict {
  /** The clearance and the place of its step, from 0. */
  readonly used?: { readonly clearance: string; readonly step: number };
  /** In words: why the step counts as uncleared. */
  readonly fault?: string;
}

function judgeClearance(world: World, event: StationEvent): ClearanceVerdict {
  const { clearance: id } = event.data;
  if (id === undefined) return { fault: 'it names none.' };
  const clearance = world.clearances.get(id);
  if (clearance === undefined) return { fault: `the book has no clearance ${id}.` };
  const fitting = clearance.steps.flatMap((step, place) => (fits(world, clearance, step, event) ? [place] : []));
  const untimely = outsideOf(clearance, event);
  if (fitting.length === 0 && !isFor(clearance, event)) {
    return { fault: `clearance ${id} is for ${clearance.subject}.` };
  }
  if (untimely !== undefined) return { fault: untimely };
  const left = fitting.filter((place) => clearance.steps[place]?.use === null);
  const asPlanned = left.find((place) => otherwise(clearance.steps[place]?.plan, event) === undefined);
  const step = asPlanned ?? left[0];
  if (step === undefined) {
    const why = fitting.length === 0 ? 'has no such step' : 'has no such step left: it was used before';
    return { fault: `clearance ${id} ${why}.` };
  }
  const used = { clearance: id, step };
  const difference = otherwise(clearance.steps[step]?.plan, event);
  return difference === undefined ? { used } : { used, fault: `clearance ${id} was ${difference}.` };
}

function isFor(clearance: Clearance, event: StationEvent): boolean {
  return clearance.subject === event.subject || clearance.steps.some(({ device }) => isDevice(event, device));
}

function isDevice(event: StationEvent, device: string | null): boolean {
  return device !== null && event.subject === deviceKey(device);
}

/** Whether an event is what a step was planned for: the same type, at the same site, on the same device. */
function fits(world: World, clearance: Clearance, step: ClearanceStep, event: StationEvent): boolean {
  const { plan, device } = step;
  if (plan.type !== event.type) return false;
  if (event.type === 'heatbook.device.deballed.v1' || event.type === 'heatbook.device.reballed.v1') {
    // A unit's clearance may cover what is done to its device while that is off the board.
    return device === null ? clearance.subject === event.subject : isDevice(event, device);
  }
  if (clearance.subject !== event.subject) return false;
  if ('refdes' in event.data && event.data.refdes !== plan.refdes) return false;
  if (event.type === 'heatbook.device.placed.v1') return device === null || event.data.device === device;
  // Whatever the site carries by then comes off, unless the plan named it.
  return event.type !== 'heatbook.device.removed.v1' || plan.device === undefined || removed(world, event) === device;
}

/** The device that came off: as the station says, or as the site has it. */
function removed(world: World, event: EventOf<'heatbook.device.removed.v1'>): string | null {
  const unit = world.units.get(event.subject);
  const carried = unit === undefined ? null : (siteIn(unit, event.data.refdes)?.device ?? null);
  const said = event.data.device;
  // A label that is read now for the first time names the device that the site carries.
  return said === undefined || !world.devices.has(said) ? carried : said;
}

/** Why the step did not begin while the clearance stood; undefined where it did. */
function outsideOf({ id, grantedAt, expiresAt, returnedAt }: Clearance, event: StationEvent): string | undefined {
  const began = beganAt(event);
  const at = orderTime(began);
  const granted = orderTime(grantedAt);
  // A station that writes whole seconds cannot say that it began within the second in which it was cleared.
  const from = at.endsWith('.000000000Z') ? `${granted.slice(0, 19)}.000000000Z` : granted;
  if (at < from) return `it began at ${began}, before clearance ${id} was granted at ${grantedAt}.`;
  if (returnedAt !== null && at >= orderTime(returnedAt)) {
    return `it began at ${began}, after clearance ${id} was given back at ${returnedAt}.`;
  }
  if (at >= orderTime(expiresAt)) return `it began at ${began}, after clearance ${id} ran out at ${expiresAt}.`;
  return undefined;
}

/** When the heat began; the time of the event where it tells of none. */
function beganAt(event: StationEvent): string {
  const heat = 'heat' in event.data ? event.data.heat : undefined;
  return heat?.startedAt ?? event.time;
}

/** What was done otherwise than planned, though it is that step; undefined where nothing was. */
function otherwise(plan: PlannedStep | undefined, event: StationEvent): string | undefined {
  const method = 'method' in event.data ? event.data.method : undefined;
  if (plan?.method !== undefined && method !== plan.method) return `for ${plan.method}, not for ${String(method)}`;
  const fate = 'fate' in event.data ? event.data.fate : undefined;
  if (plan?.fate === 'scrap' && fate === 'keep') return 'for a device that goes to scrap, not for one that is kept';
  const profile = 'profile' in event.data ? event.data.profile : undefined;
  const planned = plan?.profile;
  if (planned === undefined) return undefined;
  if (profile?.name === planned.name && profile.revision === planned.revision) return undefined;
  return `for profile ${planned.name} revision ${planned.revision}, not for ${profile === undefined ? 'a step without one' : `${profile.name} revision ${profile.revision}`}`;
}
