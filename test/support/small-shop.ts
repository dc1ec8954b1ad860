/** One double-sided lead-free board with a big device on top and small ones around it, entered over the API. */
export const SHOP = { assembly: 'TWO-SIDES', part: 'P-BIG', neighbour: 'P-SMALL', bench: 'BENCH-1', profile: 'BIG-ON' };

function site(refdes: string, side: 'top' | 'bottom', part: string, neighbours: readonly string[]): object {
  return {
    refdes,
    part,
    side,
    pads: 256,
    padDiameterMm: 0.4,
    padCopperUm: 35,
    finish: 'osp',
    ballPitchMm: 0.8,
    ballDiameterMm: 0.5,
    jointAlloy: 'SAC305',
    xMm: 10,
    yMm: 20,
    neighbours: neighbours.map((name) => ({ refdes: name, gapMm: 3 })),
  };
}

/** Whoever may enter setup over the API. */
interface ShopCaller {
  call(method: string, path: string, body: unknown): Promise<{ readonly status: number; readonly body: unknown }>;
}

export async function enterShop(shop: ShopCaller): Promise<void> {
  const put = async (path: string, body: object): Promise<void> => {
    const { status, body: answer } = await shop.call('PUT', path, body);
    if (status !== 201 && status !== 200)
      throw new Error(`PUT ${path} answered ${String(status)}: ${JSON.stringify(answer)}`);
  };
  const part = { lengthMm: 17, widthMm: 17, thicknessMm: 1.6, msl: '3', ballAlloy: 'SAC305' };
  await put(`/v1/parts/${SHOP.part}`, part);
  await put(`/v1/parts/${SHOP.neighbour}`, { ...part, lengthMm: 8, widthMm: 8 });
  await put(`/v1/assemblies/${SHOP.assembly}`, {
    customer: 'Thimblewick',
    description: 'two-sided test board',
    leadFree: true,
    assemblyReflows: { top: 1, bottom: 2 },
    sites: [
      site('U7', 'top', SHOP.part, ['U8', 'U9']),
      site('U8', 'top', SHOP.neighbour, ['U7']),
      site('U9', 'bottom', SHOP.neighbour, ['U7']),
    ],
  });
  await put(`/v1/stations/${SHOP.bench}`, {
    kind: 'hot-gas rework',
    calibrationDueAt: '2099-01-01T00:00:00Z',
    thermocouple: { type: 'K', class: 1 },
  });
  await put('/v1/operators/ann', {
    qualifications: ['removal', 'placement', 'vacuum', 'inspection'].map((skill) => ({
      skill,
      validUntil: '2099-01-01T00:00:00Z',
    })),
  });
  await put(`/v1/profiles/${SHOP.profile}/revisions/A`, {
    purpose: 'placement',
    alloy: 'SAC305',
    neighbourPeaks: [
      { refdes: 'U8', peakC: 170 },
      { refdes: 'U9', peakC: 185 },
    ],
  });
}

export interface Said {
  readonly type: string;
  readonly data: object;
  readonly subject?: string;
  readonly id?: string;
  readonly minute?: number;
}

/** Events of the bench, a minute apart in the order given unless they say otherwise. */
export function events(serial: string, said: readonly Said[]): object[] {
  return said.map(({ type, data, subject, id, minute }, n) => ({
    specversion: '1.0',
    type,
    source: `/stations/${SHOP.bench}`,
    id: id ?? `${serial}-${String(n)}`,
    subject: subject ?? `${SHOP.assembly}/${serial}`,
    time: new Date(Date.UTC(2026, 3, 1, 6, minute ?? n * 10)).toISOString(),
    data,
  }));
}

export function heat(...readings: readonly object[]): object {
  const thermocouples = readings.map((reading, n) => ({ id: `T${String(n + 1)}`, ...reading }));
  return { startedAt: '2026-04-01T06:00:00Z', endedAt: '2026-04-01T06:08:00Z', thermocouples };
}

const profile = { name: SHOP.profile, revision: 'A' };
const operator = 'ann';
const MELTS = { position: 'joint', peakC: 236 };

export const received = (data: object = {}): Said => ({
  type: 'heatbook.unit.received.v1',
  data: { workOrder: 'WO-1', sites: [{ refdes: 'U7', priorReworks: 0 }], ...data },
});
export const removed = (data: object = {}): Said => ({
  type: 'heatbook.device.removed.v1',
  data: { refdes: 'U7', fate: 'scrap', profile, heat: heat(MELTS), operator, ...data },
});
export const dressed = (data: object = {}): Said => ({
  type: 'heatbook.site.dressed.v1',
  data: { refdes: 'U7', method: 'vacuum', solderAlloy: 'SAC305', passes: 2, contactSeconds: 6, operator, ...data },
});
export const deviceIn = (device: string): Said => ({
  type: 'heatbook.device.received.v1',
  subject: `devices/${device}`,
  data: { part: SHOP.part, priorExcursions: 0, packSealedAt: '2026-03-01T00:00:00Z' },
});
export const placed = (device: string, data: object = {}): Said => ({
  type: 'heatbook.device.placed.v1',
  data: { refdes: 'U7', device, attach: 'flux', profile, heat: heat(MELTS), operator, ...data },
});
export const inspected = (data: object = {}): Said => ({
  type: 'heatbook.inspection.recorded.v1',
  data: { target: { kind: 'site', refdes: 'U7' }, technique: 'xray', result: 'pass', operator, ...data },
});
export const shipped = (): Said => ({ type: 'heatbook.unit.shipped.v1', data: {} });

/** Everything that replacing the device on U7 takes, well done. */
export function ordinaryJob(device: string): Said[] {
  return [
    received(),
    {
      type: 'heatbook.unit.baked.v1',
      data: { temperatureC: 125, startedAt: '2026-03-31T06:00:00Z', endedAt: '2026-04-01T06:00:00Z' },
    },
    removed(),
    dressed(),
    { type: 'heatbook.site.cleaned.v1', data: { refdes: 'U7', agent: 'isopropanol' } },
    inspected({ technique: 'visual' }),
    deviceIn(device),
    placed(device),
    inspected(),
    shipped(),
  ];
}
