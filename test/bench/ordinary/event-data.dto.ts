import { CommonDto } from './common.dto.js';
import { DevicePlacedDto, DeviceReballedDto, DeviceRemovedDto } from './heated.dto.js';
import { BakedDto, DeviceReceivedDto, UnitReceivedDto } from './received.dto.js';
import { InspectionRecordedDto, SiteCleanedDto, SiteDressedDto } from './site-work.dto.js';

/** Event type to the class of its data. */
export const EVENT_DATA = {
  'heatbook.unit.received.v1': UnitReceivedDto,
  'heatbook.unit.baked.v1': BakedDto,
  'heatbook.unit.shipped.v1': CommonDto,
  'heatbook.device.received.v1': DeviceReceivedDto,
  'heatbook.device.removed.v1': DeviceRemovedDto,
  'heatbook.device.placed.v1': DevicePlacedDto,
  'heatbook.device.reballed.v1': DeviceReballedDto,
  'heatbook.site.dressed.v1': SiteDressedDto,
  'heatbook.site.cleaned.v1': SiteCleanedDto,
  'heatbook.inspection.recorded.v1': InspectionRecordedDto,
} as const;

export type EventType = keyof typeof EVENT_DATA;

/** Type and data that belong together. */
export type EventFacts = {
  [T in EventType]: { readonly type: T; readonly data: InstanceType<(typeof EVENT_DATA)[T]> };
}[EventType];

export type EventData = EventFacts['data'];

/** The class of the data of a type; of what has no known type, a class that nothing passes. */
export function eventDataClass(type: unknown): (typeof EVENT_DATA)[EventType] | typeof Object {
  return isEventType(type) ? EVENT_DATA[type] : Object;
}

function isEventType(type: unknown): type is EventType {
  return typeof type === 'string' && Object.hasOwn(EVENT_DATA, type);
}
