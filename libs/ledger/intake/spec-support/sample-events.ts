import { StationEventData, StationEventType } from '../../../domain/events/station-event.js';

/** A heat with one thermocouple on the joint and one on the die. */
const heat = {
  startedAt: '2031-05-09T14:00:00+02:00',
  endedAt: '2031-05-09T14:06:30+02:00',
  thermocouples: [
    { id: 'TC 1', position: 'joint', peakC: 238.5, secondsAboveLiquidus: 61, liquidusC: 217, maxRiseCPerS: 1.8 },
    { id: 'TC 2', position: 'die', peakC: 231.25, maxFallCPerS: -2.5, uncertaintyC: 2.2 },
    { id: 'TC 3', refdes: 'U8', position: 'board', peakC: 1372 },
  ],
  trace: 'run-0042',
} as const;
const profile = { name: 'remove-u7', revision: 'C' } as const;
const span = { startedAt: '2031-05-08T08:00:00+02:00', endedAt: '2031-05-09T08:00:00+02:00' } as const;

/** Data of every event type with every member set. */
export const FULL_DATA: StationEventData = {
  'heatbook.unit.received.v1': {
    operator: 'op-3',
    clearance: '7b1f',
    note: 'Corner knocked.\nSee picture.',
    lots: { flux: 'F/12 b', solder: 'S1', paste: 'P1', balls: 'B1' },
    attachments: ['corner.jpg'],
    workOrder: 'WO 118/2',
    complaint: 'No video',
    priorReflows: 2,
    devices: [{ refdes: 'U7', device: 'D-1', priorExcursions: 2 }],
    sites: [{ refdes: 'U7', priorReworks: 0 }],
  },
  'heatbook.unit.baked.v1': { temperatureC: 125, relativeHumidityPct: 4.5, ...span, interruptedMinutes: 12 },
  'heatbook.unit.reflowed.v1': { side: 'top', profile, heat },
  'heatbook.unit.shipped.v1': { note: '' },
  'heatbook.unit.scrapped.v1': {},
  'heatbook.device.received.v1': {
    part: 'FPGA-900',
    lot: 'L 7',
    dateCode: '3107',
    owner: 'the customer',
    priorExcursions: 1,
    packSealedAt: '2031-01-02T03:04:05.123456789Z',
  },
  'heatbook.device.baked.v1': { temperatureC: 90, ...span },
  'heatbook.device.removed.v1': { refdes: 'U7', device: 'D-1', fate: 'keep', profile, heat },
  'heatbook.device.deballed.v1': {
    method: 'fountain',
    solderAlloy: 'SAC305',
    contactSeconds: 6.5,
    solderC: 265,
    heat,
  },
  'heatbook.device.reballed.v1': { ballAlloy: 'SAC305', ballDiameterMm: 0.6, heat },
  'heatbook.device.placed.v1': {
    refdes: 'U7',
    device: 'D-1',
    part: 'FPGA-900',
    attach: 'paste',
    pasteAlloy: 'an.alloy-of-their-own',
    pasteVolumeMm3: 0.04,
    profile,
    heat,
  },
  'heatbook.device.scrapped.v1': { operator: 'op-3' },
  'heatbook.exposure.started.v1': { ambientC: 23, relativeHumidityPct: 101.2, storage: 'open' },
  'heatbook.exposure.stopped.v1': { storage: 'dry-pack' },
  'heatbook.site.dressed.v1': {
    refdes: 'U7',
    method: 'vacuum',
    solderAlloy: 'Sn63Pb37',
    passes: 3,
    contactSeconds: 4,
    solderC: 260,
    flowing: false,
    flux: 'no-clean 4',
    remnantHeightUm: 35,
    nozzleSpeedMmPerS: 3,
    profile,
    heat,
  },
  'heatbook.site.heated.v1': { refdes: 'U7', purpose: 'removal-attempt', profile, heat },
  'heatbook.site.cleaned.v1': { refdes: 'U7', agent: 'isopropyl alcohol, 99 %' },
  'heatbook.site.repaired.v1': { refdes: 'U7', procedure: 'pad replaced, film adhesive', pads: ['A1', 'AB12'] },
  'heatbook.inspection.recorded.v1': {
    target: { kind: 'site', refdes: 'U7', device: 'D-1' },
    technique: 'height-map',
    result: 'fail',
    defects: [{ code: 'residual-solder', pads: ['A1'] }, { code: 'thin-pad' }],
    heightsUm: [{ xMm: 0, yMm: -1.5, zUm: 12.5 }],
    voids: [{ joint: 'A1', fraction: 0.12 }],
    leadPct: 0.04,
  },
  'heatbook.bath.analysed.v1': {
    solderAlloy: 'SAC305',
    leadPct: 0.07,
    copperPct: 0.9,
    sampledAt: '2031-05-09T06:00:00Z',
  },
};

function subjectOf(type: StationEventType): string {
  if (type === 'heatbook.bath.analysed.v1') return 'stations/fountain-1';
  const ofDevice = /\.device\.(received|baked|deballed|reballed|scrapped)\./.test(type);
  return ofDevice ? 'devices/D-1' : 'CTRL-7/SN00042';
}

/** A complete event of a type, as a station would send it; `change` replaces members of the envelope. */
export function sampleEvent(type: StationEventType, change: Record<string, unknown> = {}): Record<string, unknown> {
  return {
    specversion: '1.0',
    type,
    source: '/stations/rework-3',
    id: '0198-a1',
    subject: subjectOf(type),
    time: '2031-05-09T14:06:30.25+02:00',
    data: FULL_DATA[type],
    ...change,
  };
}

/** A short event, of a site that was cleaned. */
export function cleanedEvent(id: string, change: Record<string, unknown> = {}): Record<string, unknown> {
  return sampleEvent('heatbook.site.cleaned.v1', { id, ...change });
}
