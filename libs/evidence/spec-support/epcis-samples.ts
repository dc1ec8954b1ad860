import { Heat } from '../../domain/events/heat.js';
import { SiteDressed, StationEventData, StationEventType } from '../../domain/events/station-event.js';
import { GENESIS_HASH, SealedEntry } from '../../ledger/ports/seal.js';

const common = {
  operator: 'ann',
  clearance: 'C-1',
  note: 'edge of the board warped, "5 °C"',
  lots: { flux: 'F 12/3', solder: 'S-1', paste: 'P-1', balls: 'B%1' },
  attachments: ['x-ray 7.png'],
};
const profile = { name: 'ON', revision: 'A' };
const heat: Heat = {
  startedAt: '2031-03-03t06:00:00.25+01:00',
  endedAt: '2031-03-03T05:08:00z',
  thermocouples: [
    {
      ...{ id: 'TC 1/ä', refdes: 'U8', position: 'joint', peakC: 236.5, secondsAboveLiquidus: 61, liquidusC: 217 },
      ...{ maxRiseCPerS: 1.5, maxFallCPerS: -2, uncertaintyC: 1.5 },
    },
    { id: 'TC2', position: 'die', peakC: 150 },
  ],
  trace: 'log 7.csv',
};
const bake = {
  ...{ temperatureC: 125, relativeHumidityPct: 4, interruptedMinutes: 12 },
  ...{ startedAt: '2031-03-02T06:00:00Z', endedAt: '2031-03-03T05:00:00Z' },
};
const dressing: Omit<SiteDressed, 'refdes'> = {
  ...{ method: 'vacuum', solderAlloy: 'SAC305', passes: 2, contactSeconds: 6, solderC: 260, flowing: true },
  ...{ flux: 'gel', remnantHeightUm: 20, nozzleSpeedMmPerS: 5 },
};

/** One of each type, with every member that it may have. */
export const epcisSamples: { readonly [T in StationEventType]: StationEventData[T] } = {
  'heatbook.unit.received.v1': {
    ...common,
    ...{ workOrder: 'WO 7/1', complaint: 'no boot', priorReflows: 2, sites: [{ refdes: 'U7', priorReworks: 0 }] },
    devices: [{ refdes: 'U7', device: 'D-1', priorExcursions: 1 }],
  },
  'heatbook.unit.baked.v1': { ...common, ...bake },
  'heatbook.unit.reflowed.v1': { ...common, side: 'top', profile, heat },
  'heatbook.unit.shipped.v1': common,
  'heatbook.unit.scrapped.v1': common,
  'heatbook.device.received.v1': {
    ...common,
    ...{ part: 'CHIP', lot: 'L-1', dateCode: '3101', owner: 'them', priorExcursions: 0 },
    packSealedAt: '2031-01-01T00:00:00Z',
  },
  'heatbook.device.baked.v1': { ...common, ...bake },
  'heatbook.device.removed.v1': { ...common, refdes: 'U7', device: 'D-1', fate: 'scrap', profile, heat },
  'heatbook.device.deballed.v1': {
    ...common,
    ...{ method: 'fountain', solderAlloy: 'SAC305', contactSeconds: 5, solderC: 250, heat },
  },
  'heatbook.device.reballed.v1': { ...common, ballAlloy: 'SAC305', ballDiameterMm: 0.5, heat },
  'heatbook.device.placed.v1': {
    ...common,
    ...{ refdes: 'U7', device: 'D-2', part: 'CHIP', attach: 'paste', pasteAlloy: 'SAC305', pasteVolumeMm3: 0.1 },
    ...{ profile, heat },
  },
  'heatbook.device.scrapped.v1': common,
  'heatbook.exposure.started.v1': { ...common, ambientC: 23, relativeHumidityPct: 45, storage: 'open' },
  'heatbook.exposure.stopped.v1': { ...common, storage: 'dry-cabinet' },
  'heatbook.site.dressed.v1': { ...common, refdes: 'U7', ...dressing, profile, heat },
  'heatbook.site.heated.v1': { ...common, refdes: 'U7', purpose: 'touch-up', profile, heat },
  'heatbook.site.cleaned.v1': { ...common, refdes: 'U7', agent: 'water' },
  'heatbook.site.repaired.v1': { ...common, refdes: 'U7', procedure: 'R-1', pads: ['A1'] },
  'heatbook.inspection.recorded.v1': {
    ...common,
    ...{ target: { kind: 'site', refdes: 'U7' }, technique: 'xray', result: 'fail', leadPct: 0.02 },
    defects: [{ code: 'void', pads: ['A1'] }],
    heightsUm: [{ xMm: 1, yMm: 2, zUm: -3 }],
    voids: [{ joint: 'A1', fraction: 0.31 }],
  },
  'heatbook.bath.analysed.v1': {
    ...common,
    ...{ solderAlloy: 'SAC305', leadPct: 0.01, copperPct: 0.7, sampledAt: '2031-03-03T05:00:00Z' },
  },
};

/** An entry of unit BRD/0001 as station HOT would have it written. */
export function sampleEntry(type: string, given: Partial<SealedEntry> = {}): SealedEntry {
  return {
    ...{ subject: 'BRD/0001', seq: 3, type, time: '2031-03-03T07:00:00+01:00', recordedAt: '2031-03-03T06:00:01.5Z' },
    ...{ event: { source: '/stations/HOT', id: 'e1' }, actor: { kind: 'station', station: 'HOT', operator: 'ann' } },
    ...{ data: {}, effects: [], rules: 1, prevHash: GENESIS_HASH, hash: 'ab'.repeat(32) },
    ...given,
  };
}
