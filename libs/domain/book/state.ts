import { Clearance } from '../clearance/clearance.js';
import { EventOrder } from '../events/event-order.js';
import { Technique } from '../events/station-event.js';
import { CopperContact } from '../copper/remaining-copper.js';
import { Cause } from '../holds/cause.js';
import { LeadEstimate } from '../lead/lead-in-joint.js';
import { LimitKind } from '../limits/limit-rule.js';
import { RecheckMark } from '../limits/recheck-mark.js';
import { MoistureLedger } from '../moisture/moisture-ledger.js';
import { Trace } from '../trace/trace.js';
import { Subject } from '../subject/subject.js';
import { Tally } from './tally.js';

/**
 * What the book knows of its subjects. These are plain JSON and the fold's own working copies: `evolve` changes them in
 * place, so a caller hands in copies that nobody else reads.
 */
export interface UnitState {
  assembly: string;
  serial: string;
  /** `expected`: facts are known, its receipt is not. */
  status: 'expected' | 'in-house' | 'shipped' | 'scrapped';
  workOrder: string | null;
  complaint: string | null;
  received: boolean;
  reflows: Tally;
  sites: Record<string, SiteState>;
  moisture: MoistureLedger;
  warnings: Warning[];
  /** Every device that has ever been on it or was named in its events. */
  devicesSeen: string[];
  last: EventOrder | null;
  /** Revisions of limits that it was judged anew for, in the order in which that was done. */
  rechecks?: RecheckMark[];
}

/** What a site needs next. */
export type SiteCondition = 'fitted' | 'bare' | 'dressed' | 'to-dress' | 'to-clean' | 'damaged' | 'to-rework';

export interface SiteState {
  device: string | null;
  condition: SiteCondition;
  /** Alloys of the joint, or of what is left of it. */
  alloys: string[];
  reworks: Tally;
  dressings: Tally;
  /** Every time molten solder stood on its pads, in order. */
  contacts: CopperContact[];
  /** Solder left on its pads; its height in um where somebody measured it. */
  remnant: { alloy: string; filmUm: number | null };
  /** Lead in the finished joints, wt%: by estimate, and as measured since the last placement. */
  lead: { estimate: LeadEstimate | null; measuredPct: number | null };
  /** Passes over all dressings: recorded, not limited. */
  passes: number;
  excursions: Tally;
  placed: boolean;
  /** Latest result of each technique since the last placement. */
  inspected: Partial<Record<Technique, 'pass' | 'fail'>>;
}

export interface Place {
  assembly: string;
  serial: string;
  refdes: string;
}

export interface DeviceState {
  device: string;
  part: string | null;
  /** `renamed`: it was named after its place until its own name was read; `knownAs` says which. */
  status: 'loose' | 'mounted' | 'scrapped' | 'renamed';
  knownAs: string | null;
  place: Place | null;
  /** When it was placed, normalised; null while it is loose, or where it came with its unit. */
  mountedAt: string | null;
  excursions: Tally;
  /** What became of its balls: as its part has them, taken off, or put on anew in this alloy. */
  balls: { state: 'as-made' } | { state: 'none' } | { state: 'reballed'; alloy: string };
  lot: string | null;
  dateCode: string | null;
  owner: string | null;
  moisture: MoistureLedger;
  warnings: Warning[];
  /** Stream keys of the units it has been on. */
  unitsSeen: string[];
  last: EventOrder | null;
  /** Revisions of limits that it was judged anew for, in the order in which that was done. */
  rechecks?: RecheckMark[];
}

export interface StationState {
  station: string;
  bath: { solderAlloy: string; leadPct: number; copperPct: number; sampledAt: string } | null;
  last: EventOrder | null;
}

/** Limit kinds whose action is to warn, and what else is worth a word. */
export type WarningCode =
  | LimitKind
  | 'history-unknown'
  | 'prior-ignored'
  | 'not-received'
  | 'neighbour-possible'
  | 'alloy-unknown'
  | 'profile-unknown'
  | 'part-unknown'
  | 'part-differs'
  | 'site-not-dressed'
  | 'thermocouple-unplaced'
  | 'operator-unknown'
  | 'lead-disagreement';

/** Recorded and shown; it stops nothing. Repeats of a code on a subject are one warning with a count. */
export interface Warning {
  code: WarningCode;
  subject: Subject;
  detail: string;
  remedy: string;
  count: number;
  firstAt: string;
  lastAt: string;
}

/** A stop that a person raised, or that stands for another reason than the fold's own. */
export interface StandingHold {
  subject: Subject;
  unit: { assembly: string; serial: string } | null;
  reason: string;
  /** Normalised UTC times. */
  raisedAt: string;
  releasedAt: string | null;
}

/** All that one fold may read and change. */
export interface World {
  units: Map<string, UnitState>;
  devices: Map<string, DeviceState>;
  stations: Map<string, StationState>;
  /** Causes that the fold has found, in order. */
  causes: Cause[];
  /** When a hold for a cause was released, by cause key. Normalised UTC time. */
  releases: Map<string, string>;
  /** Holds whose cause is not the fold's: raised by hand, events that are parked. */
  standing: StandingHold[];
  /** Trace files that heats name, by name, in C; those that are not there yet are left out. */
  traces: ReadonlyMap<string, Trace>;
  /** Clearances that events name, by id. */
  clearances: Map<string, Clearance>;
}

export function emptyWorld(): World {
  return {
    units: new Map(),
    devices: new Map(),
    stations: new Map(),
    causes: [],
    releases: new Map(),
    standing: [],
    traces: new Map(),
    clearances: new Map(),
  };
}
