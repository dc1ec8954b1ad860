import type { Schemas } from '../api/client.js';

export type Goal = Schemas['MethodPlanBody']['goal'];

/** What a plan is asked for, as the address names it. */
export interface PlanWish {
  readonly assembly: string;
  readonly serial: string;
  readonly refdes: string;
  readonly goal: Goal;
  /** The device that is to be placed; empty where it is not chosen yet. */
  readonly device: string;
}

/** Reads the wish from an address; what it does not name is empty, and a new device is what most jobs take. */
export function planWish(address: URLSearchParams): PlanWish {
  const part = (name: string): string => address.get(name) ?? '';
  const goal: Goal = part('goal') === 'reuse-device' ? 'reuse-device' : 'new-device';
  return { assembly: part('assembly'), serial: part('serial'), refdes: part('refdes'), goal, device: part('device') };
}

/** The same for the address, without what is empty. */
export function wishInAddress(wish: PlanWish): URLSearchParams {
  return new URLSearchParams(Object.entries(wish).filter(([, value]) => value !== ''));
}

/** What a scan or a typed text names: `assembly/serial`, with a blank between, or a serial alone. */
export function unitNamed(text: string): { readonly assembly?: string; readonly serial: string } {
  const [first = '', second] = text.trim().split(/[\s/]+/, 2);
  return second === undefined || second === '' ? { serial: first } : { assembly: first, serial: second };
}

/** A unit among what was found. */
export interface FoundUnit {
  readonly assembly: string;
  readonly serial: string;
  readonly customer?: string;
  readonly state?: string;
}

/** The units among what a scan found; where it found none, the boards that the devices sit on. */
export function unitsFound(items: readonly Schemas['FoundItem'][]): readonly FoundUnit[] {
  const named = (wanted: Schemas['FoundItem']['kind']) =>
    items.flatMap(({ kind, assembly, serial, customer, state }) => {
      if (kind !== wanted || assembly === undefined || serial === undefined) return [];
      const told = { ...(customer !== undefined && { customer }), ...(state !== undefined && { state }) };
      return [{ assembly, serial, ...(kind === 'unit' && told) }];
    });
  const units = named('unit');
  const found = units.length > 0 ? units : named('device');
  return [...new Map(found.map((unit) => [`${unit.assembly}/${unit.serial}`, unit])).values()];
}

/**
 * The steps of a route as a clearance takes them, with the device that is to be placed named in the placement, so that its
 * excursions and floor life are looked at too.
 */
export function stepsToClear(steps: Schemas['PlanRow']['steps'], device: string): Schemas['ClearanceBody']['steps'] {
  return steps.map(({ type, refdes, device: named, method, fate, profile }) => {
    const placed = type === 'heatbook.device.placed.v1' && device !== '' ? device : named;
    return {
      type: type as Schemas['ClearanceStepBody']['type'],
      ...(refdes !== undefined && { refdes }),
      ...(placed !== undefined && { device: placed }),
      ...(method !== undefined && { method }),
      ...(fate !== undefined && { fate }),
      ...(profile !== undefined && { profile }),
    };
  });
}
