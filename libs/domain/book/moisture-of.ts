import { continuedAboard, MoistureLedger } from '../moisture/moisture-ledger.js';
import { DeviceState, UnitState } from './state.js';

/**
 * What a device has lain in: on its own until it was placed, with its unit from then on. One that came with its unit
 * has no story of its own.
 */
export function moistureOf(device: DeviceState, unit: UnitState | undefined): MoistureLedger {
  if (device.place === null || unit === undefined) return device.moisture;
  return device.mountedAt === null ? unit.moisture : continuedAboard(device.moisture, unit.moisture, device.mountedAt);
}
