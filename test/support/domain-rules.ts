import { HOUSE_LIMITS } from '../../libs/domain/limits/house-limits.js';
import { LimitRule } from '../../libs/domain/limits/limit-rule.js';
import {
  AssemblyDesign,
  PartData,
  ProfileData,
  Rules,
  SetupData,
  SetupKind,
  SetupRevision,
  SiteDesign,
} from '../../libs/domain/setup/setup-data.js';
import { subjectKey } from '../../libs/domain/subject/subject.js';

type Records = { readonly [K in SetupKind]?: Readonly<Record<string, SetupData[K]>> };

export function siteDesign(refdes: string, given: Partial<SiteDesign> = {}): SiteDesign {
  return {
    refdes,
    part: 'CHIP',
    side: 'top',
    pads: 256,
    padDiameterMm: 0.45,
    padCopperUm: 35,
    finish: 'osp',
    ballPitchMm: 1,
    ballDiameterMm: 0.6,
    jointAlloy: 'SAC305',
    xMm: 10,
    yMm: 10,
    neighbours: [],
    ...given,
  };
}

/** A double-sided board: U1 and U2 beside each other on top, U3 under U1, U4 far from all. */
export function boardDesign(given: Partial<AssemblyDesign> = {}): AssemblyDesign {
  return {
    customer: 'NORTH',
    description: 'controller',
    leadFree: true,
    assemblyReflows: 1,
    sites: [
      siteDesign('U1', {
        neighbours: [
          { refdes: 'U2', gapMm: 2 },
          { refdes: 'U3', gapMm: 1.6 },
        ],
      }),
      siteDesign('U2', { neighbours: [{ refdes: 'U1', gapMm: 2 }] }),
      siteDesign('U3', { side: 'bottom', neighbours: [{ refdes: 'U1', gapMm: 1.6 }] }),
      siteDesign('U4'),
    ],
    ...given,
  };
}

export function partData(given: Partial<PartData> = {}): PartData {
  return { lengthMm: 17, widthMm: 17, thicknessMm: 1.6, msl: '3', ballAlloy: 'SAC305', ...given };
}

export function profileData(given: Partial<ProfileData> = {}): ProfileData {
  return { purpose: 'hot gas', alloy: 'SAC305', neighbourPeaks: [], ...given };
}

/** A limit of a kind, with the house's unit and action unless said otherwise. */
export function limitRule(kind: LimitRule['kind'], given: Partial<LimitRule>): LimitRule {
  const house = HOUSE_LIMITS.get(kind);
  if (house === undefined) throw new Error(`no house limit of kind ${kind}`);
  return { ...house, source: 'agreed with the customer', ...given };
}

const DEFAULTS: { readonly [K in SetupKind]: Readonly<Record<string, SetupData[K]>> } = {
  assembly: { BRD: boardDesign() },
  part: { CHIP: partData() },
  station: {
    HOT: { kind: 'hot-gas', calibrationDueAt: '2040-01-01T00:00:00Z', thermocouple: { type: 'K', class: 1 } },
  },
  operator: {},
  'copper-rate': {},
  concession: {},
  retention: {},
  profile: {
    // Qualified: neither neighbour gets near the line.
    'cool@1': profileData({ neighbourPeaks: ['U1', 'U2', 'U3'].map((refdes) => ({ refdes, peakC: 150 })) }),
    // Says nothing of neighbours.
    'mute@1': profileData(),
  },
  limit: Object.fromEntries([...HOUSE_LIMITS].filter(([kind]) => kind !== 'clearance-required')),
};

/** The setup of a small house, whose benches need no clearance: rules are looked at one at a time. With records added or replaced. Everything is at revision 1. */
export function rulesOf(given: Records = {}): Rules {
  const all = <K extends SetupKind>(kind: K): Map<string, SetupRevision<K>> =>
    new Map(
      Object.entries<SetupData[K]>({ ...DEFAULTS[kind], ...given[kind] }).map(([name, body]) => [
        name,
        { name, revision: 1, body },
      ]),
    );
  const records = {
    assembly: all('assembly'),
    part: all('part'),
    station: all('station'),
    operator: all('operator'),
    profile: all('profile'),
    limit: all('limit'),
    'copper-rate': all('copper-rate'),
    concession: all('concession'),
    retention: all('retention'),
  } satisfies { [K in SetupKind]: Map<string, SetupRevision<K>> };
  const maps: { [K in SetupKind]: Map<string, SetupRevision<K>> } = records;
  return {
    version: 1,
    find: (kind, name) => maps[kind].get(name),
    limits: (kind) => [...records.limit.values()].filter(({ body }) => body.kind === kind).map((limit) => [limit]),
    concessions: (key) => [...records.concession.values()].filter(({ body }) => subjectKey(body.subject) === key),
  };
}
