import { EMPTY_MOISTURE } from '../../domain/moisture/moisture-ledger.js';
import { Count, emptyTally } from '../../domain/book/tally.js';
import { DeviceState, SiteState, UnitState, Warning } from '../../domain/book/state.js';
import { HOUSE_LIMITS } from '../../domain/limits/house-limits.js';
import { LimitRule } from '../../domain/limits/limit-rule.js';
import { AssemblyDesign, Rules, SetupData, SetupKind, SetupRevision } from '../../domain/setup/setup-data.js';
import { GENESIS_HASH } from '../ports/seal.js';
import { BudgetView } from './budget-view.js';
import { unitView, UnitView } from './unit-view.js';

const SITE_DESIGN = {
  part: 'LOGIC-1',
  side: 'top',
  pads: 256,
  padDiameterMm: 0.4,
  padCopperUm: 35,
  finish: 'osp',
  ballPitchMm: 0.8,
  ballDiameterMm: 0.5,
  jointAlloy: 'SAC305',
  xMm: 0,
  yMm: 0,
  neighbours: [],
} as const;

const DESIGN: AssemblyDesign = {
  customer: 'Nordlicht Instruments',
  description: 'Sample board',
  leadFree: true,
  assemblyReflows: 2,
  sites: [
    { ...SITE_DESIGN, refdes: 'U10' },
    { ...SITE_DESIGN, refdes: 'U2' },
  ],
};

function rulesOf(limits: readonly LimitRule[], design: AssemblyDesign | null = DESIGN): Rules {
  const records: { [K in SetupKind]?: SetupData[K] } = design === null ? {} : { assembly: design };
  return {
    version: 7,
    find: <K extends SetupKind>(kind: K, name: string): SetupRevision<K> | undefined => {
      const body: SetupData[K] | undefined = records[kind];
      return body === undefined ? undefined : { name, revision: 1, body };
    },
    limits: (kind) =>
      limits.filter((limit) => limit.kind === kind).map((body) => [{ name: body.kind, revision: 3, body }]),
    concessions: () => [],
  };
}

const house = rulesOf([...HOUSE_LIMITS.values()]);

function counted(basis: Count['basis']): Count {
  return { event: { source: '/stations/HG-1', id: 'e1' }, at: '2030-01-07T08:00:00.000000000Z', basis, why: 'removal' };
}

function site(device: string | null): SiteState {
  return {
    device,
    condition: device === null ? 'bare' : 'fitted',
    alloys: ['SAC305'],
    reworks: emptyTally({ count: 0, basis: 'assumed' }),
    dressings: emptyTally({ count: 0, basis: 'assumed' }),
    contacts: [],
    remnant: { alloy: 'SAC305', filmUm: null },
    lead: { estimate: null, measuredPct: null },
    passes: 0,
    excursions: emptyTally({ count: 2, basis: 'assumed' }),
    placed: false,
    inspected: {},
  };
}

function unit(sites: Record<string, SiteState>): UnitState {
  return {
    assembly: 'BRD-1',
    serial: 'S1',
    status: 'in-house',
    workOrder: 'WO-7',
    complaint: null,
    received: true,
    reflows: emptyTally({ count: 2, basis: 'assumed' }),
    sites,
    moisture: EMPTY_MOISTURE,
    warnings: [],
    devicesSeen: [],
    last: null,
  };
}

function device(name: string, over: Partial<DeviceState> = {}): DeviceState {
  return {
    device: name,
    part: null,
    status: 'mounted',
    knownAs: null,
    place: { assembly: 'BRD-1', serial: 'S1', refdes: 'U2' },
    mountedAt: null,
    excursions: emptyTally({ count: 0, basis: 'declared' }),
    balls: { state: 'as-made' },
    lot: null,
    dateCode: null,
    owner: null,
    moisture: EMPTY_MOISTURE,
    warnings: [],
    unitsSeen: [],
    last: null,
    ...over,
  };
}

function view(state: UnitState, devices: readonly DeviceState[] = [], rules = house): UnitView {
  return unitView(
    {
      unit: state,
      devices,
      holds: [],
      clearances: [],
      headHash: GENESIS_HASH,
      changedAt: null,
      now: '2026-04-01T00:00:00Z',
    },
    rules,
  );
}

function budget({ budgets }: UnitView, limit: BudgetView['limit'], name?: string): BudgetView | undefined {
  return budgets.find(({ subject, limit: kind }) => {
    if (kind !== limit) return false;
    return (
      name === undefined || name === (subject.kind === 'site' ? subject.refdes : 'device' in subject && subject.device)
    );
  });
}

describe('unitView', () => {
  it('lists sites as the assembly does, and those that it dropped last', () => {
    const state = unit({ U2: site(null), U99: site(null), U10: site(null) });
    expect(view(state).sites.map(({ refdes }) => refdes)).toEqual(['U10', 'U2', 'U99']);
  });

  it('gives a budget for the board, for each site, and for each device aboard', () => {
    const limits = view(unit({ U10: site(null), U2: site('D-1') }), [device('D-1')]).budgets.map(({ limit }) => limit);
    const ofSite = ['site-reworks', 'site-dressings', 'site-excursions'];
    expect(limits).toEqual(['unit-reflows', ...ofSite, ...ofSite, 'device-excursions']);
  });

  it('says how each figure is known and what is left, below zero too', () => {
    const excursions = {
      prior: { count: 2, basis: 'declared' },
      counted: [counted('measured'), counted('inferred')],
      possible: [counted('unknown')],
    } as const;
    const found = budget(view(unit({ U2: site('D-1') }), [device('D-1', { excursions })]), 'device-excursions');
    expect(found).toEqual({
      subject: { kind: 'device', device: 'D-1' },
      limit: 'device-excursions',
      used: 4,
      possible: 1,
      reserved: 0,
      allowed: 3,
      remaining: -1,
      basis: 'inferred',
      inputs: { prior: { count: 2, basis: 'declared' }, measured: 1, declared: 0, inferred: 1 },
      rule: {
        name: 'device-excursions',
        revision: 3,
        source: expect.stringContaining('J-STD-020') as string,
        action: 'hold',
        countPossible: false,
      },
    });
  });

  it('takes possible excursions off what is left only where the limit says so', () => {
    const tally = { ...emptyTally({ count: 0, basis: 'assumed' }), possible: [counted('unknown')] };
    const state = unit({ U2: { ...site(null), excursions: tally } });
    const limit = HOUSE_LIMITS.get('site-excursions');
    if (limit === undefined) throw new Error('the house has no such limit');
    const strict = rulesOf([{ ...limit, countPossible: true }]);
    expect(budget(view(state), 'site-excursions')).toMatchObject({ used: 0, possible: 1, remaining: 8 });
    expect(budget(view(state, [], strict), 'site-excursions')).toMatchObject({ used: 0, possible: 1, remaining: 7 });
  });

  it('shows a device that its own record has elsewhere as disputed, and leaves its budget to that place', () => {
    const elsewhere = device('D-1', { place: { assembly: 'BRD-1', serial: 'S2', refdes: 'U2' } });
    const found = view(unit({ U2: site('D-1') }), [elsewhere]);
    expect(found.sites).toMatchObject([{ device: 'D-1', disputed: true }]);
    expect(budget(found, 'device-excursions')).toBeUndefined();
  });

  it('shows the warnings of the devices aboard with its own', () => {
    const warning: Warning = {
      code: 'part-unknown',
      subject: { kind: 'device', device: 'D-1' },
      detail: 'Part P is not in the setup.',
      remedy: 'Enter part P.',
      count: 1,
      firstAt: '2030-01-07T08:00:00.000000000Z',
      lastAt: '2030-01-07T08:00:00.000000000Z',
    };
    const state = unit({ U2: site('D-1') });
    state.warnings.push({ ...warning, code: 'not-received' });
    const { warnings } = view(state, [device('D-1', { warnings: [warning] })]);
    expect(warnings.map(({ code }) => code)).toEqual(['not-received', 'part-unknown']);
  });

  it('shows unknown as unknown where the setup has neither the assembly nor a limit', () => {
    const found = view(unit({ U2: site(null) }), [], rulesOf([], null));
    expect(found.customer).toBeNull();
    expect(budget(found, 'unit-reflows')).toMatchObject({ used: 2, allowed: null, remaining: null, rule: null });
  });

  it('changes nothing in the record that it is made from', () => {
    const state = unit({ U2: site('D-1') });
    const before = structuredClone(state);
    view(state, [device('D-1')]);
    expect(state).toEqual(before);
  });
});
