import { StationEvent } from '../events/station-event.js';
import { parseStream } from '../subject/subject.js';
import { UnitState } from './state.js';

/** Devices that an event names. */
export function devicesNamed(event: StationEvent): readonly string[] {
  const own = ownDevice(event);
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

/** The device that an event is about, in a list; most are about a unit, and asked more often than need reading. */
function ownDevice({ subject }: StationEvent): string[] {
  const stream = subject.startsWith('devices/') ? parseStream(subject) : undefined;
  return stream?.kind === 'device' ? [stream.device] : [];
}

/** Devices that a unit's site table names: those that any event on it may heat. */
export function devicesAboard(unit: UnitState): readonly string[] {
  const aboard: string[] = [];
  for (const { device } of Object.values(unit.sites)) if (device !== null) aboard.push(device);
  return aboard;
}
