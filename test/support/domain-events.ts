import { orderTime } from '../../libs/domain/events/event-order.js';
import { Heat, ProfileRef, ThermocouplePosition, ThermocoupleSummary } from '../../libs/domain/events/heat.js';
import {
  Baked,
  DeviceDeballed,
  DevicePlaced,
  DeviceReballed,
  DeviceReceived,
  DeviceRemoved,
  ExposureChanged,
  InspectionRecorded,
  SiteDressed,
  SiteHeated,
  StationEvent,
  StationEventData,
  StationEventType,
  UnitReceived,
  UnitReflowed,
} from '../../libs/domain/events/station-event.js';

/** What a station says; `book` gives it a time after the one listed before it, unless it has one of its own. */
export type Draft = {
  [T in StationEventType]: {
    readonly type: T;
    readonly subject: string;
    readonly data: StationEventData[T];
    readonly time?: string;
    readonly station?: string;
    readonly id?: string;
  };
}[StationEventType];

const START_MS = Date.parse('2031-03-03T06:00:00Z');

/** The event of a draft that stands at this place of its list: one minute apart. */
export function eventOf(draft: Draft, place: number): StationEvent {
  const station = draft.station ?? 'HOT';
  const time = draft.time ?? new Date(START_MS + place * 60_000).toISOString();
  const id = draft.id ?? `e${String(place).padStart(4, '0')}`;
  return {
    ...draft,
    station,
    time,
    order: { source: `/stations/${station}`, id, at: orderTime(time) },
  };
}

/** The same fact said at another time or by another station. */
export function said<D extends Draft>(draft: D, how: { time?: string; station?: string; id?: string }): D {
  return { ...draft, ...how };
}

/** A thermocouple reading; exact (uncertainty 0) unless said otherwise. */
export function tc(
  position: ThermocouplePosition,
  peakC: number,
  given: Partial<ThermocoupleSummary> = {},
): ThermocoupleSummary {
  return { id: `TC-${position}`, position, peakC, uncertaintyC: 0, ...given };
}

/** A reading whose uncertainty the event does not give. */
export function bareTc(position: ThermocouplePosition, peakC: number, refdes?: string): ThermocoupleSummary {
  return { id: `TC-${position}`, position, peakC, ...(refdes !== undefined && { refdes }) };
}

export function heat(...thermocouples: readonly ThermocoupleSummary[]): Heat {
  return { startedAt: '2031-03-03T05:50:00Z', endedAt: '2031-03-03T05:57:00Z', thermocouples };
}

/** Its neighbours stay cool. */
export const cool: ProfileRef = { name: 'cool', revision: '1' };
/** Says nothing of neighbours. */
export const mute: ProfileRef = { name: 'mute', revision: '1' };

const bake: Baked = { temperatureC: 125, startedAt: '2031-03-02T06:00:00Z', endedAt: '2031-03-03T05:00:00Z' };

/** What can be said of a unit. */
export function onUnit(subject = 'BRD/0001') {
  return {
    received: (data: UnitReceived = {}): Draft => ({ type: 'heatbook.unit.received.v1', subject, data }),
    baked: (data: Partial<Baked> = {}): Draft => ({
      type: 'heatbook.unit.baked.v1',
      subject,
      data: { ...bake, ...data },
    }),
    exposed: (data: ExposureChanged = { storage: 'open' }): Draft => ({
      type: 'heatbook.exposure.started.v1',
      subject,
      data,
    }),
    stored: (data: ExposureChanged = { storage: 'dry-cabinet' }): Draft => ({
      type: 'heatbook.exposure.stopped.v1',
      subject,
      data,
    }),
    reflowed: (data: Partial<UnitReflowed> = {}): Draft => ({
      type: 'heatbook.unit.reflowed.v1',
      subject,
      data: { profile: cool, heat: heat(), ...data },
    }),
    removed: (refdes: string, data: Partial<DeviceRemoved> = {}): Draft => ({
      type: 'heatbook.device.removed.v1',
      subject,
      data: { refdes, fate: 'scrap', profile: cool, heat: heat(), ...data },
    }),
    dressed: (refdes: string, data: Partial<SiteDressed> = {}): Draft => ({
      type: 'heatbook.site.dressed.v1',
      subject,
      data: { refdes, method: 'braid', solderAlloy: 'SAC305', passes: 1, contactSeconds: 8, ...data },
    }),
    placed: (refdes: string, device: string, data: Partial<DevicePlaced> = {}): Draft => ({
      type: 'heatbook.device.placed.v1',
      subject,
      data: { refdes, device, attach: 'flux', profile: cool, heat: heat(), ...data },
    }),
    heated: (refdes: string, data: Partial<SiteHeated> = {}): Draft => ({
      type: 'heatbook.site.heated.v1',
      subject,
      data: { refdes, purpose: 'touch-up', profile: cool, heat: heat(), ...data },
    }),
    cleaned: (refdes: string): Draft => ({
      type: 'heatbook.site.cleaned.v1',
      subject,
      data: { refdes, agent: 'water' },
    }),
    repaired: (refdes: string): Draft => ({
      type: 'heatbook.site.repaired.v1',
      subject,
      data: { refdes, procedure: 'R-1', pads: ['A1'] },
    }),
    inspected: (refdes: string, data: Partial<InspectionRecorded> = {}): Draft => ({
      type: 'heatbook.inspection.recorded.v1',
      subject,
      data: { target: { kind: 'site', refdes }, technique: 'xray', result: 'pass', ...data },
    }),
    shipped: (): Draft => ({ type: 'heatbook.unit.shipped.v1', subject, data: {} }),
    scrapped: (): Draft => ({ type: 'heatbook.unit.scrapped.v1', subject, data: {} }),
  };
}

/** What can be said of a device on its own. */
export function ofDevice(name: string) {
  const subject = `devices/${name}`;
  return {
    received: (data: Partial<DeviceReceived> = {}): Draft => ({
      type: 'heatbook.device.received.v1',
      subject,
      data: { part: 'CHIP', priorExcursions: 0, ...data },
    }),
    /** Nobody says what it has been through. */
    found: (part = 'CHIP'): Draft => ({ type: 'heatbook.device.received.v1', subject, data: { part } }),
    baked: (data: Partial<Baked> = {}): Draft => ({
      type: 'heatbook.device.baked.v1',
      subject,
      data: { ...bake, ...data },
    }),
    exposed: (data: ExposureChanged = { storage: 'open' }): Draft => ({
      type: 'heatbook.exposure.started.v1',
      subject,
      data,
    }),
    deballed: (data: Partial<DeviceDeballed> = {}): Draft => ({
      type: 'heatbook.device.deballed.v1',
      subject,
      data: { method: 'braid', ...data },
    }),
    reballed: (data: Partial<DeviceReballed> = {}): Draft => ({
      type: 'heatbook.device.reballed.v1',
      subject,
      data: { ballAlloy: 'SAC305', ballDiameterMm: 0.6, ...data },
    }),
    inspected: (data: Partial<InspectionRecorded> = {}): Draft => ({
      type: 'heatbook.inspection.recorded.v1',
      subject,
      data: { target: { kind: 'device' }, technique: 'visual', result: 'pass', ...data },
    }),
    scrapped: (): Draft => ({ type: 'heatbook.device.scrapped.v1', subject, data: {} }),
  };
}
