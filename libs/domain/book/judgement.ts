import { StationEvent } from '../events/station-event.js';
import { Evidence } from '../holds/cause.js';
import { HoldReason } from '../holds/hold-reason.js';
import { Breach } from '../limits/breach.js';
import { AssemblyDesign, Rules, SiteDesign } from '../setup/setup-data.js';
import { Subject, unitKey } from '../subject/subject.js';
import { Effect } from './effect.js';
import { deviceOf, evolve, siteIn, siteOf, unitOf } from './evolve.js';
import { DeviceState, SiteState, UnitState, WarningCode, World } from './state.js';

/** One event being judged: what it did so far, with the means to do more. Every effect is applied as it is recorded. */
export class Judgement<E extends StationEvent = StationEvent> {
  readonly effects: Effect[] = [];
  /** Devices whose state this judgement read or changed. */
  readonly touchedDevices = new Set<string>();

  constructor(
    readonly world: World,
    readonly rules: Rules,
    readonly event: E,
  ) {}

  emit(effect: Effect): void {
    this.effects.push(effect);
    evolve(this.world, effect);
  }

  device(name: string): DeviceState {
    this.touchedDevices.add(name);
    return deviceOf(this.world, name);
  }

  deviceIfKnown(name: string): DeviceState | undefined {
    this.touchedDevices.add(name);
    return this.world.devices.get(name);
  }

  /** Records a warning in the ledger of the stream that the event is about, or of the device itself when it is loose. */
  warn(code: WarningCode, subject: Subject, detail: string, remedy: string): void {
    this.emit({ kind: 'warned', stream: this.event.subject, code, subject, detail, remedy, at: this.event.order.at });
  }

  /** Calls for a hold in the same breath as the fact that gives cause for it. */
  hold(reason: HoldReason, subject: Subject, evidence: Evidence, remedy: string): void {
    const { event } = this;
    const unit = this.world.units.get(event.subject) ?? this.placeOf(subject);
    const customer = unit ? this.rules.find('assembly', unit.assembly)?.body.customer : undefined;
    this.emit({
      kind: 'hold-called',
      cause: {
        reason,
        subject,
        event: event.order,
        ...(unit && { unit: { assembly: unit.assembly, serial: unit.serial } }),
        ...(customer !== undefined && { customer }),
        station: event.station,
        ...(event.data.operator !== undefined && { operator: event.data.operator }),
        evidence,
        remedy,
      },
    });
  }

  private placeOf(subject: Subject): DeviceState['place'] {
    return subject.kind === 'device' ? (this.world.devices.get(subject.device)?.place ?? null) : null;
  }
}

/** Records a breach as its limit asks: by a hold, or by a warning. */
export function tellBreach(j: Judgement, subject: Subject, { limit, action, evidence, remedy }: Breach): void {
  if (action === 'warn') j.warn(limit.kind, subject, evidence.summary, remedy);
  else j.hold(limit.kind, subject, evidence, remedy);
}

/** A judgement of an event on a unit, whose assembly is known and whose state is open. */
export interface UnitContext {
  readonly key: string;
  readonly design: AssemblyDesign;
  readonly state: UnitState;
  readonly subject: Extract<Subject, { kind: 'unit' }>;
}

export function unitContext(j: Judgement, design: AssemblyDesign): UnitContext {
  const state = unitOf(j.world, j.event.subject);
  const { assembly, serial } = state;
  return { key: unitKey(assembly, serial), design, state, subject: { kind: 'unit', assembly, serial } };
}

export interface SiteContext extends UnitContext {
  readonly refdes: string;
  readonly siteDesign: SiteDesign | undefined;
  readonly site: SiteState;
  readonly siteSubject: Extract<Subject, { kind: 'site' }>;
}

export function siteContext(j: Judgement, unit: UnitContext, refdes: string): SiteContext {
  const { key, design, state, subject } = unit;
  const { assembly, serial } = state;
  return {
    key,
    design,
    state,
    subject,
    refdes,
    siteDesign: design.sites.find((site) => site.refdes === refdes),
    site: siteOf(j.world, key, refdes),
    siteSubject: { kind: 'site', assembly, serial, refdes },
  };
}

export function hasSite(unit: UnitContext, refdes: string): boolean {
  return siteIn(unit.state, refdes) !== undefined;
}

export function deviceSubject(device: string): Extract<Subject, { kind: 'device' }> {
  return { kind: 'device', device };
}
