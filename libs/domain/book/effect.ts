import { CopperContact } from '../copper/remaining-copper.js';
import { EventRef } from '../events/event-order.js';
import { Cause } from '../holds/cause.js';
import { LeadEstimate } from '../lead/lead-in-joint.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { Subject } from '../subject/subject.js';
import { Count, Prior } from './tally.js';
import { MoistureFact } from '../moisture/moisture-ledger.js';
import { DeviceState, Place, SiteCondition, UnitState, WarningCode } from './state.js';
import { Technique } from '../events/station-event.js';

/**
 * What an event did, as the ledger tells it: small steps, each of which `evolve` can apply. An entry's effects and
 * nothing else move the state, so a reader can follow a tally by reading entries.
 */
export type Effect =
  /** The unit is in the book from here on, with the sites of its assembly. */
  | { kind: 'unit-opened'; assembly: string; serial: string; reflows: Prior; sites: SiteOpening[] }
  /** The assembly gained sites since the unit was opened. */
  | { kind: 'sites-opened'; unit: string; sites: SiteOpening[] }
  | { kind: 'unit-status'; unit: string; status: UnitState['status'] }
  | { kind: 'unit-received'; unit: string; workOrder: string | null; complaint: string | null }
  | { kind: 'device-opened'; device: string; part: string | null; place: Place | null; prior: Prior }
  | {
      kind: 'device-described';
      device: string;
      part: string;
      lot: string | null;
      dateCode: string | null;
      owner: string | null;
    }
  /** A device that had only a place got the name on its label; what it had spent goes with it. */
  | { kind: 'device-named'; device: string; formerly: string }
  | { kind: 'prior'; subject: Subject; limit: BudgetKind; prior: Prior }
  | { kind: 'counted'; subject: Subject; limit: BudgetKind; count: Count }
  /** Measured, and short of the line: shown so that a reader sees why nothing was counted. */
  | { kind: 'clear'; subject: Subject; limit: BudgetKind; count: Count }
  | { kind: 'possible'; subject: Subject; limit: BudgetKind; count: Count }
  | { kind: 'mounted'; device: string; place: Place; alloys: string[]; how: 'placed' | 'declared'; at: string }
  /** The device is off the site as the site tells it; `to` null leaves the device where another record has it. */
  | { kind: 'unmounted'; unit: string; refdes: string; device: string; to: 'loose' | 'scrapped' | null; at: string }
  | { kind: 'device-status'; device: string; status: 'loose' | 'scrapped' }
  | { kind: 'balls'; device: string; balls: DeviceState['balls'] }
  | { kind: 'site'; unit: string; refdes: string; condition: SiteCondition }
  | { kind: 'site-alloys'; unit: string; refdes: string; alloys: string[] }
  | { kind: 'solder-contact'; unit: string; refdes: string; contact: CopperContact }
  | { kind: 'remnant'; unit: string; refdes: string; alloy: string; filmUm: number | null }
  | { kind: 'lead-estimated'; unit: string; refdes: string; estimate: LeadEstimate }
  | { kind: 'lead-measured'; unit: string; refdes: string; leadPct: number }
  | { kind: 'passes'; unit: string; refdes: string; passes: number }
  | { kind: 'inspected'; unit: string; refdes: string; technique: Technique; result: 'pass' | 'fail' }
  | { kind: 'moisture'; stream: string; fact: MoistureFact }
  | { kind: 'bath'; station: string; solderAlloy: string; leadPct: number; copperPct: number; sampledAt: string }
  | { kind: 'warned'; stream: string; code: WarningCode; subject: Subject; detail: string; remedy: string; at: string }
  | { kind: 'hold-called'; cause: Cause }
  /** The event is the planned step of a clearance; `step` is its place there, from 0. */
  | { kind: 'clearance-used'; clearance: string; step: number; event: EventRef }
  /** The verdict on a shipment: what was still open. Complete: its receipt and a placement at least were known. */
  | { kind: 'shipment'; unit: string; open: string[]; complete: boolean };

export interface SiteOpening {
  readonly refdes: string;
  readonly device: string;
  readonly alloys: string[];
  readonly prior: Prior;
}
