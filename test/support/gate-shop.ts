import { HOUSE_LIMITS } from '../../libs/domain/limits/house-limits.js';
import { SetupData, SetupKind } from '../../libs/domain/setup/setup-data.js';
import { SetupStore } from '../../libs/ledger/ports/setup-store.js';
import { ASSEMBLY, DEVICES, Limit, LIMITS, PROFILES, REFDES, UNITS } from '../reference/gate-words.js';
import { boardDesign, partData, profileData, siteDesign } from './domain-rules.js';
import { beside, COOL_C, envelope, GATE_BENCH, MELTS_C } from './gate-events.js';

const PEAK_C = { HOT: MELTS_C, COOL: COOL_C, MUTE: null };

/** The shop of the naive gate as the product's setup says it. */
export async function enterGateShop(store: SetupStore): Promise<void> {
  const enter = <K extends SetupKind>(kind: K, name: string, body: SetupData[K]): Promise<unknown> =>
    store.revise(kind, name, body, 'shop');
  await enter('part', 'CHIP', partData({ msl: '1' }));
  const sites = REFDES.map((refdes) =>
    // A nickel finish, since copper is not what this is about.
    siteDesign(refdes, { finish: 'enig', neighbours: [{ refdes: beside(refdes), gapMm: 2 }] }),
  );
  await enter('assembly', ASSEMBLY, boardDesign({ leadFree: false, sites }));
  const station = { kind: 'hot-gas', thermocouple: { type: 'K', class: 1 } } as const;
  for (const name of [GATE_BENCH, 'SPARE']) await enter('station', name, station);
  for (const name of ['op', 'po']) await enter('operator', name, { qualifications: [] });
  for (const name of PROFILES) {
    const peakC = PEAK_C[name];
    const neighbourPeaks = peakC === null ? [] : REFDES.map((refdes) => ({ refdes, peakC }));
    await enter('profile', `${name}@A`, profileData({ neighbourPeaks }));
  }
  for (const kind of Object.keys(LIMITS) as Limit[]) {
    const house = HOUSE_LIMITS.get(kind);
    if (house !== undefined) await enter('limit', kind, { ...house, ...LIMITS[kind] });
  }
}

/** What the book is told before anything else: who is here and what it had been through. */
export function openingEvents(time: string): readonly object[] {
  const boards = UNITS.map((subject) => {
    const aboard = Object.entries(DEVICES).filter(([, { from }]) => from.startsWith(`${subject}#`));
    const devices = aboard.map(([device, { prior, from }]) => ({
      refdes: from.slice(subject.length + 1),
      device,
      priorExcursions: prior,
    }));
    const data = { devices, sites: REFDES.map((refdes) => ({ refdes, priorReworks: 0 })) };
    return { type: 'heatbook.unit.received.v1', subject, data };
  });
  const loose = Object.entries(DEVICES).flatMap(([device, { prior, from }]) => {
    const data = { part: 'CHIP', priorExcursions: prior };
    return from === 'loose' ? [{ type: 'heatbook.device.received.v1', subject: `devices/${device}`, data }] : [];
  });
  return [...boards, ...loose].map((event, n) => envelope({ ...event, id: `opening-${String(n)}`, time }));
}
