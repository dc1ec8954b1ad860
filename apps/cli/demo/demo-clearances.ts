import { isClearedType, PlannedStep } from '../../../libs/domain/clearance/clearance.js';
import { compareText, orderTime } from '../../../libs/domain/events/event-order.js';
import { plannedStep } from '../../../libs/simulator/planned-step.js';
import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';

/** What a bench of the shift asks for before it gets hot, with the answer that it should get. */
export interface DemoRequest {
  /** Of the clearance, where it is granted. */
  readonly id: string;
  /** When it asks, RFC 3339 UTC. */
  readonly at: string;
  readonly subject: string;
  readonly station: string;
  readonly operator: string;
  readonly steps: readonly PlannedStep[];
  /** `went-ahead`: it is refused, and the bench does the work all the same. */
  readonly expected: 'granted' | 'went-ahead';
}

/** Requests that the book refuses, by subject and place among the requests of that subject, from 1. */
const WENT_AHEAD: ReadonlySet<string> = new Set([
  // Balls for devices whose last excursion is reserved for their placement; a plan cannot say that they will be set on cool.
  'devices/K-0101 1',
  'devices/K-0103 1',
  // A fourth rework of a site where three are allowed, and a third one of a customer's two.
  'QRN-DRIVE-3/0301 1',
  'MRK-LINK-4/0401 1',
  // A site that the assembly does not have, and one that is not empty.
  'ZIB-CORE-2/0202 1',
  'QRN-DRIVE-3/0302 1',
  // A device whose bag lay open for days, and pads worn thin.
  'ZIB-CORE-2/0212 1',
  'ZIB-PANEL-1/0119 1',
]);

/** A request comes a minute before its first heat. */
const LEAD_MS = 60_000;

type Event = StationCloudEvent;

/**
 * Puts clearances before the heats of a shift: from a removal to the placement that follows is one plan, any other heat
 * one of its own. Events name what they were granted; those of a bench that went ahead name none.
 */
export function clearedShift(events: readonly Event[]): { events: readonly Event[]; requests: readonly DemoRequest[] } {
  const requests: DemoRequest[] = [];
  const clearanceOf = new Map<Event, string>();
  const asked = new Map<string, number>();
  for (const [subject, plan] of plansOf(events)) {
    const place = (asked.get(subject) ?? 0) + 1;
    asked.set(subject, place);
    const id = `00000000-0000-4000-8000-${String(requests.length + 1).padStart(12, '0')}`;
    const [first] = plan;
    if (first === undefined) continue;
    const expected = WENT_AHEAD.has(`${subject} ${String(place)}`) ? 'went-ahead' : 'granted';
    const { operator = 'op-101' } = first.data;
    const station = first.source.slice('/stations/'.length);
    const at = new Date(Date.parse(beganAt(first)) - LEAD_MS).toISOString();
    requests.push({ id, at, subject, station, operator, steps: plan.map(plannedStep), expected });
    if (expected === 'granted') for (const event of plan) clearanceOf.set(event, id);
  }
  const named = events.map((event) => {
    const clearance = clearanceOf.get(event);
    return clearance === undefined ? event : ({ ...event, data: { ...event.data, clearance } } as Event);
  });
  return { events: named, requests: requests.sort((a, b) => compareText(orderTime(a.at), orderTime(b.at))) };
}

/** Heats by subject, cut where a new piece of work begins, in the order in which they happened. */
function plansOf(events: readonly Event[]): readonly (readonly [string, readonly Event[]])[] {
  const open = new Map<string, Event[]>();
  const plans: (readonly [string, Event[]])[] = [];
  const inOrder = [...events].sort((a, b) => compareText(orderTime(a.time), orderTime(b.time)));
  for (const event of inOrder) {
    if (!isClearedType(event.type)) continue;
    const going = open.get(event.subject);
    if (going !== undefined && goesOn(event.type)) {
      going.push(event);
      continue;
    }
    const plan = [event];
    open.set(event.subject, plan);
    plans.push([event.subject, plan]);
  }
  return plans;
}

/** Whether a step follows from the one before it on the same bench. */
function goesOn(type: Event['type']): boolean {
  return ['heatbook.site.dressed.v1', 'heatbook.device.placed.v1', 'heatbook.device.reballed.v1'].includes(type);
}

function beganAt({ data, time }: Event): string {
  return 'heat' in data ? data.heat.startedAt : time;
}
