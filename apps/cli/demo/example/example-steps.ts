import { Heat } from '../../../../libs/domain/events/heat.js';
import { StationEventData, StationEventType } from '../../../../libs/domain/events/station-event.js';
import { StationCloudEvent } from '../../../../libs/simulator/station-cloud-event.js';

/** The board of the example: the one that fares worst in the demo's shift. */
export const EXAMPLE_UNIT = { assembly: 'QRN-DRIVE-3', serial: '0301' } as const;
export const EXAMPLE_SITE = { kind: 'site', ...EXAMPLE_UNIT, refdes: 'U2' } as const;
export const EXAMPLE_KEY = 'QRN-DRIVE-3/0301';
export const NEW_DEVICE = 'N-0301';

/** A clock time of 4 March 2026, the day after the shift. */
export function nextDay(clock: string): string {
  return `2026-03-04T${clock}:00+01:00`;
}

/** A step of that day; `id` is the last part of the event's id. */
function step<T extends StationEventType>(
  type: T,
  station: string,
  clock: string,
  id: string,
  data: StationEventData[T],
  subject = EXAMPLE_KEY,
): StationCloudEvent {
  const name = `${subject.replace('devices/', '').replace('/', ':')}:${id}`;
  return {
    ...{ specversion: '1.0', type, source: `/stations/${station}`, id: name, subject, time: nextDay(clock) },
    ...{ datacontenttype: 'application/json', data },
  } as StationCloudEvent;
}

const U2 = { kind: 'site', refdes: 'U2' } as const;
const CLEANING: StationEventType = 'heatbook.site.cleaned.v1';

/** After the pad was repaired: somebody else looks at it. */
export function repairInspected(): StationCloudEvent {
  return step('heatbook.inspection.recorded.v1', 'INSP-1', '07:20', '21', {
    ...{ target: U2, technique: 'visual', result: 'pass', operator: 'op-202' },
    note: 'pad A1 in place, adhesion in order',
  });
}

/** The dressing of the repaired site, which is told hours later: the bench’s network was down. */
export function lateDressing(clearance: string): StationCloudEvent {
  return step('heatbook.site.dressed.v1', 'DRESS-4', '08:20', '22', {
    ...{ refdes: 'U2', method: 'braid', solderAlloy: 'Sn63Pb37', passes: 2, contactSeconds: 4 },
    ...{ remnantHeightUm: 18, flux: 'no-clean', lots: { flux: 'FX-2611' }, operator: 'op-104', clearance },
    note: 'network down at the bench, posted after lunch',
  });
}

/** Between dressing and placement. */
export function siteChecked(): readonly StationCloudEvent[] {
  return [
    step(CLEANING, 'DRESS-4', '08:30', '23', { refdes: 'U2', agent: 'solvent wipe' }),
    step('heatbook.inspection.recorded.v1', 'INSP-1', '08:45', '24', {
      ...{ target: U2, technique: 'height-map', result: 'pass', operator: 'op-202' },
      heightsUm: [
        { xMm: -4, yMm: -4, zUm: 22 },
        { xMm: 4, yMm: -4, zUm: 19 },
        { xMm: 4, yMm: 4, zUm: 24 },
        { xMm: -4, yMm: 4, zUm: 21 },
        { xMm: 0, yMm: 0, zUm: 15 },
      ],
    }),
  ];
}

/** A new device from stock: received, and its pack opened at the bench. */
export function deviceFetched(): readonly StationCloudEvent[] {
  const subject = `devices/${NEW_DEVICE}`;
  return [
    step(
      'heatbook.device.received.v1',
      ...(['RECV-1', '08:00', '01'] as const),
      {
        ...{ part: 'P-BGA144L', lot: 'L2605', dateCode: '2605', owner: 'house stock', priorExcursions: 0 },
        packSealedAt: '2026-02-20T09:00:00+01:00',
      },
      subject,
    ),
    step(
      'heatbook.exposure.started.v1',
      ...(['HOTGAS-4', '08:50', '02'] as const),
      { storage: 'open', ambientC: 23, relativeHumidityPct: 45 },
      subject,
    ),
  ];
}

export function devicePlaced(clearance: string, heat: Heat): StationCloudEvent {
  return step('heatbook.device.placed.v1', 'HOTGAS-4', '09:15', '25', {
    ...{ refdes: 'U2', device: NEW_DEVICE, part: 'P-BGA144L', attach: 'paste', pasteAlloy: 'Sn63Pb37' },
    ...{ pasteVolumeMm3: 9.2, lots: { paste: 'PA-0711' }, profile: { name: 'QRN-DRIVE-3-U2-ON', revision: 'B' } },
    ...{ heat, operator: 'op-104', clearance },
  });
}

/** After the placement; the first inspection names the wrong site. */
export function afterPlacement(): readonly StationCloudEvent[] {
  return [
    step(CLEANING, 'DRESS-4', '09:30', '26', { refdes: 'U2', agent: 'solvent wipe', operator: 'op-104' }),
    step('heatbook.inspection.recorded.v1', 'INSP-1', '09:38', '27', {
      ...{ target: { kind: 'site', refdes: 'U3' }, technique: 'visual', result: 'pass', operator: 'op-201' },
    }),
    step('heatbook.inspection.recorded.v1', 'INSP-1', '09:40', '28', {
      ...{ target: U2, technique: 'visual', result: 'pass', operator: 'op-201' },
    }),
    step('heatbook.inspection.recorded.v1', 'XRAY-1', '09:50', '29', {
      ...{ target: U2, technique: 'xray', result: 'pass', operator: 'op-201' },
      voids: [
        { joint: 'A1', fraction: 0.12 },
        { joint: 'A2', fraction: 0.05 },
        { joint: 'M12', fraction: 0.17 },
      ],
    }),
    step('heatbook.unit.shipped.v1', 'SHIP-1', '10:40', '30', {}),
  ];
}

/** The event that names the wrong site. */
export const WRONG_SITE = { source: '/stations/INSP-1', id: 'QRN-DRIVE-3:0301:27' } as const;
