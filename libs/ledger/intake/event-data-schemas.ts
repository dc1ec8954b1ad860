import { TObject } from '@sinclair/typebox';
import { StationEventType } from '../../domain/events/station-event.js';
import { BAKED, EXPOSURE, NOTHING_MORE } from './common-data-schema.js';
import {
  DEVICE_RECEIVED,
  DEVICE_REMOVED,
  DEVICE_DEBALLED,
  DEVICE_REBALLED,
  DEVICE_PLACED,
} from './device-data-schemas.js';
import { INSPECTION_RECORDED, BATH_ANALYSED } from './measured-data-schemas.js';
import { SITE_DRESSED, SITE_HEATED, SITE_CLEANED, SITE_REPAIRED } from './site-data-schemas.js';
import { UNIT_RECEIVED, UNIT_REFLOWED } from './unit-data-schemas.js';

/** The `data` of each event type. Limits are there to bound what is stored; none turns away what a bench can produce. */
export const EVENT_DATA_SCHEMAS = {
  'heatbook.unit.received.v1': UNIT_RECEIVED,
  'heatbook.unit.baked.v1': BAKED,
  'heatbook.unit.reflowed.v1': UNIT_REFLOWED,
  'heatbook.unit.shipped.v1': NOTHING_MORE,
  'heatbook.unit.scrapped.v1': NOTHING_MORE,
  'heatbook.device.received.v1': DEVICE_RECEIVED,
  'heatbook.device.baked.v1': BAKED,
  'heatbook.device.removed.v1': DEVICE_REMOVED,
  'heatbook.device.deballed.v1': DEVICE_DEBALLED,
  'heatbook.device.reballed.v1': DEVICE_REBALLED,
  'heatbook.device.placed.v1': DEVICE_PLACED,
  'heatbook.device.scrapped.v1': NOTHING_MORE,
  'heatbook.exposure.started.v1': EXPOSURE,
  'heatbook.exposure.stopped.v1': EXPOSURE,
  'heatbook.site.dressed.v1': SITE_DRESSED,
  'heatbook.site.heated.v1': SITE_HEATED,
  'heatbook.site.cleaned.v1': SITE_CLEANED,
  'heatbook.site.repaired.v1': SITE_REPAIRED,
  'heatbook.inspection.recorded.v1': INSPECTION_RECORDED,
  'heatbook.bath.analysed.v1': BATH_ANALYSED,
} satisfies Record<StationEventType, TObject>;
