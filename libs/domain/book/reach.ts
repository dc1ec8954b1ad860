import { StationEvent } from '../events/station-event.js';
import { parseStream } from '../subject/subject.js';
import { UnitState } from './state.js';

/** Devices that an event names. */
export function devicesNamed(event: StationEvent): readonly string[] {
  const stream = parseStream(event.subject);
  const own = stream?.kind === 'device' ? [stream.device] : [];
  switch (event.type) {
    case 'heatbook.unit.received.v1':
      return (event.data.devices ?? []).flatMap(({ device }) => (device === undefined ? [] : [device]));
    case 'heatbook.device.removed.v1':
      return event.data.device === undefined ? own : [event.data.device];
    case 'heatbook.device.placed.v1':
      return [event.data.device];
    case 'heatbook.inspection.recorded.v1':
      return event.data.target.device === undefined ? own : [...own, event.data.target.device];
    default:
      return own;
  }
}

/** Devices that a unit's site table names: those that any event on it may heat. */
export function devicesAboard(unit: UnitState): readonly string[] {
  return Object.values(unit.sites).flatMap(({ device }) => (device === null ? [] : [device]));
}
