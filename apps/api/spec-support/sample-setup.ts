import { SpecApi } from './start-api.js';

/** A board of two sites as PUT /v1/assemblies takes it. */
export function sampleAssembly(): { sites: Record<string, unknown>[] } & Record<string, unknown> {
  const site = {
    part: 'LOGIC-1',
    pads: 256,
    padDiameterMm: 0.4,
    padCopperUm: 35,
    finish: 'osp',
    ballPitchMm: 0.8,
    ballDiameterMm: 0.5,
    jointAlloy: 'SAC305',
  };
  return {
    customer: 'Nordlicht Instruments',
    description: 'Sample board',
    leadFree: true,
    assemblyReflows: { top: 1, bottom: 2 },
    sites: [
      { ...site, refdes: 'U1', side: 'top', xMm: 10, yMm: 10, neighbours: [{ refdes: 'U2', gapMm: 4 }] },
      { ...site, refdes: 'U2', side: 'bottom', xMm: 30, yMm: 10, neighbours: [] },
    ],
  };
}

export const SAMPLE_PART = { lengthMm: 17, widthMm: 17, thicknessMm: 1.4, msl: '3', ballAlloy: 'SAC305' };

export async function enterSampleSetup(api: SpecApi): Promise<void> {
  await api.ask('PUT', '/v1/parts/LOGIC-1', { body: SAMPLE_PART });
  await api.ask('PUT', '/v1/assemblies/BRD-1', { body: sampleAssembly() });
  await api.ask('PUT', '/v1/stations/HG-1', { body: { kind: 'hot-gas' } });
}

export async function stationKey(api: SpecApi, station: string): Promise<string> {
  const { body } = await api.ask('POST', `/v1/stations/${station}/keys`);
  if (typeof body !== 'object' || body === null || !('key' in body)) throw new Error('no key was issued');
  return String(body.key);
}

let number = 0;

/** A station event; each has an id of its own unless `over` gives one. */
export function sampleEvent(type: string, data: object, over: object = {}): Record<string, unknown> {
  number += 1;
  return {
    specversion: '1.0',
    type,
    source: '/stations/HG-1',
    id: `e-${number}`,
    subject: 'BRD-1/S1',
    time: new Date(Date.UTC(2030, 0, 7, 8, number)).toISOString(),
    data,
    ...over,
  };
}

/** A removal whose joint reading is over the melting range of the board's joints. */
export function removalEvent(over: object = {}): Record<string, unknown> {
  return sampleEvent(
    'heatbook.device.removed.v1',
    {
      refdes: 'U1',
      fate: 'scrap',
      profile: { name: 'REMOVE', revision: 'A' },
      heat: {
        startedAt: '2030-01-07T07:50:00Z',
        endedAt: '2030-01-07T07:56:00Z',
        thermocouples: [{ id: 'tc1', refdes: 'U1', position: 'joint', peakC: 236 }],
      },
    },
    over,
  );
}
