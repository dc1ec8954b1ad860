import { devicesAboard } from '../../domain/book/reach.js';
import { deviceKey, StreamKey, unitKey } from '../../domain/subject/subject.js';
import { SubjectRecord } from '../ports/book-store.js';

/** Keys of the devices that a unit says are on it. */
export function devicesOf({ state }: SubjectRecord): StreamKey[] {
  return state?.kind === 'unit' ? devicesAboard(state.state).map(deviceKey) : [];
}

/** Those of the devices that are on one of these units by their own record too. */
export function aboardOf(units: readonly SubjectRecord[], devices: readonly SubjectRecord[]): readonly SubjectRecord[] {
  const known = new Set(units.map(({ key }) => key));
  return devices.filter(({ state }) => {
    const place = state?.kind === 'device' ? state.state.place : null;
    return place !== null && known.has(unitKey(place.assembly, place.serial));
  });
}
