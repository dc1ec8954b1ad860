import {
  afterInWords,
  afterPlan,
  copperInWords,
  gapMm,
  houseFigure,
  isAmong,
  leadInWords,
  sharedCautions,
  sharedReasons,
  spentBy,
} from './plan-figures.js';

const budget = (differs: object) => ({
  subject: { kind: 'site' as const, assembly: 'A', serial: '1', refdes: 'U7' },
  limit: 'site-excursions',
  used: 2,
  reserved: 1,
  allowed: 8,
  ...differs,
});

describe('Figures of a plan', () => {
  const budgets = [
    budget({}),
    budget({ subject: { kind: 'device', device: 'K-1' }, limit: 'device-excursions', allowed: 3 }),
  ];

  it('stand upon what is spent and reserved already', () => {
    expect(afterPlan(budgets, { limit: 'site-excursions', refdes: 'U7' }, 3)).toEqual({
      used: 2,
      reserved: 4,
      allowed: 8,
    });
    expect(afterPlan(budgets, { limit: 'device-excursions', device: 'K-1' }, 1)).toEqual({
      used: 2,
      reserved: 2,
      allowed: 3,
    });
  });

  it('are none where there is no such budget', () => {
    expect(afterPlan(budgets, { limit: 'site-excursions', refdes: 'U8' }, 1)).toBeUndefined();
    expect(afterPlan(budgets, { limit: 'device-excursions', device: null }, 1)).toBeUndefined();
  });

  it('say what is the plan’s and what was reserved before', () => {
    expect(afterInWords({ used: 1, reserved: 1, allowed: 3 }, 1)).toBe('1 used, 1 with this, 1 left of 3');
    expect(afterInWords({ used: 2, reserved: 3, allowed: 3 }, 2)).toBe(
      '2 used, 1 reserved before, 2 with this, 2 over the 3 allowed',
    );
  });

  it('add up what the steps spend', () => {
    const none = { siteReworks: 0, siteDressings: 0, siteExcursions: 0, deviceExcursions: 0 } as const;
    const steps = [{ spends: { ...none, siteReworks: 1 as const } }, { spends: none }, { spends: none }];
    expect([spentBy(steps, 'siteReworks'), spentBy(steps, 'siteDressings')]).toEqual([1, 0]);
  });

  it('say what is not known', () => {
    expect([null, 0, 0.004, 0.583].map(leadInWords)).toEqual(['not known', 'none', 'under 0.01 wt%', '0.58 wt%']);
    expect([25.855, null].map(copperInWords)).toEqual(['25.9 µm', 'not known']);
  });
});

describe('The figure of a limit', () => {
  const house = { kind: 'pad-copper-min', allowed: 10, scope: {} };
  const nowMs = Date.parse('2026-03-01T00:00:00Z');

  it('is told where the house has one for everything', () => {
    expect(houseFigure([house, { kind: 'joint-lead-max', allowed: 0.1 }], 'pad-copper-min', nowMs)).toBe(10);
  });

  it.each([
    ['several have scopes', [house, { ...house, scope: { customer: 'Q' } }]],
    ['the only one is for some', [{ ...house, scope: { assembly: 'A' } }]],
    ['it is not in force yet', [{ ...house, effectiveFrom: '2026-03-02T00:00:00Z' }]],
    ['there is none', []],
  ])('is left to the service where %s', (_, limits) => {
    expect(houseFigure(limits, 'pad-copper-min', nowMs)).toBeUndefined();
  });
});

describe('What is around a site', () => {
  it('is as far as either of the two says', () => {
    const sites = [{ refdes: 'U7', neighbours: [{ refdes: 'U8', gapMm: 3 }] }, { refdes: 'U8' }, { refdes: 'U9' }];
    expect([gapMm(sites, 'U7', 'U8'), gapMm(sites, 'U8', 'U7'), gapMm(sites, 'U7', 'U9')]).toEqual([3, 3, undefined]);
  });
});

describe('Reasons', () => {
  const reason = (detail: string) => ({
    code: 'device-excursions',
    subject: { kind: 'device' as const, name: 'K-1' },
    ...{ blocks: true, detail, remedy: 'r' },
  });

  it('are shared only where they say the same of the same', () => {
    const rows = [{ reasons: [reason('3'), reason('x')] }, { reasons: [reason('3'), reason('4')] }];
    expect(sharedReasons(rows)).toEqual([reason('3')]);
    expect(isAmong(sharedReasons(rows), reason('4'))).toBe(false);
    expect(sharedReasons([])).toEqual([]);
  });
});

describe('Cautions', () => {
  it('that all have are found', () => {
    expect(sharedCautions([{ cautions: ['a', 'b'] }, { cautions: ['c', 'a'] }])).toEqual(['a']);
    expect(sharedCautions([])).toEqual([]);
  });
});
