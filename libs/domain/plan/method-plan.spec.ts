import fc from 'fast-check';
import { DRESSING_METHODS } from '../events/station-event.js';
import { Skill } from '../setup/setup-data.js';
import { methodPlan, MethodPlan } from './method-plan.js';
import { MethodPlanQuestion, PlanBudget } from './plan-question.js';

const ALL: readonly Skill[] = ['braid', 'vacuum', 'fountain', 'coupon', 'removal', 'placement', 'reballing'];

function budget(limit: PlanBudget['limit'], used: number, allowed: number, rest: Partial<PlanBudget> = {}): PlanBudget {
  return { limit, used, reserved: 0, allowed, action: 'hold', ...rest };
}

/** An ordinary lead-free site, one device to be changed. */
const ORDINARY: MethodPlanQuestion = {
  goal: 'new-device',
  stage: 'fitted',
  site: { refdes: 'U7', pads: 256, padDiameterMm: 0.45, ballPitchMm: 1, ballDiameterMm: 0.6, finish: 'osp' },
  siteBudgets: [
    budget('site-reworks', 0, 3),
    budget('site-dressings', 0, 6, { action: 'warn' }),
    budget('site-excursions', 1, 8, { action: 'warn' }),
  ],
  deviceBudget: budget('device-excursions', 0, 3),
  neighbours: [],
  copper: { left: { leftUm: 35, certainty: 'estimate' }, leastUm: 10, action: 'hold' },
  lead: {
    leadFree: true,
    limitPct: 0.1,
    remnantAlloy: 'SAC305',
    ball: { diameterMm: 0.6, alloy: 'SAC305' },
    freshAlloy: 'SAC305',
    bathLeadPct: 0.01,
  },
  operators: [{ operator: 'op-1', skills: ALL }],
  methodsAllowed: { methods: DRESSING_METHODS, action: 'hold' },
  qualifiedAction: 'warn',
};

/** The same site with its device to be used again after one pass of a single-sided board. */
const REUSE: MethodPlanQuestion = {
  ...ORDINARY,
  goal: 'reuse-device',
  device: 'D-1',
  deviceBudget: budget('device-excursions', 1, 3),
};

const row = (plan: MethodPlan, method: string) => {
  const found = plan.rows.find((candidate) => candidate.method === method);
  if (found === undefined) throw new Error(`no row for ${method}`);
  return found;
};

describe('a method plan', () => {
  it('has a row per method, all of which fit an ordinary site without a word against them', () => {
    const plan = methodPlan(ORDINARY);
    expect(plan.rows.map(({ method, fits, reasons }) => [method, fits, reasons])).toEqual(
      DRESSING_METHODS.map((method) => [method, true, []]),
    );
    expect(plan.rows[0]).toMatchObject({
      excursions: { site: 3, device: 1, neighbours: [] },
      skill: 'braid',
      leadPct: 0,
    });
    expect(plan).not.toHaveProperty('concession');
  });

  it('marks one cheapest row and says why', () => {
    const plan = methodPlan(ORDINARY);
    expect(plan.rows.filter(({ cheapest }) => cheapest).map(({ method }) => method)).toEqual(['braid']);
    expect(plan).toMatchObject({ cheapest: 'braid', why: expect.stringContaining('minutes') as string });
  });

  it('prefers a slower method with a qualified operator to a quicker one without', () => {
    const skills = ALL.filter((skill) => skill !== 'braid');
    const plan = methodPlan({ ...ORDINARY, operators: [{ operator: 'op-2', skills }] });
    expect(plan.cheapest).toBe('vacuum');
    expect(row(plan, 'braid')).toMatchObject({ fits: true, qualifiedOperators: [], missingSkills: ['braid'] });
    expect(row(plan, 'vacuum').qualifiedOperators).toEqual(['op-2']);
    const strict = methodPlan({ ...ORDINARY, operators: [{ operator: 'op-2', skills }], qualifiedAction: 'hold' });
    expect(row(strict, 'braid').fits).toBe(false);
  });

  // 1 assembly + 1 removal + 1 reballing + 1 placement = 4 of 3, by policy.
  it('finds no way to reuse a device of a single-sided board within three excursions, and says what it would take', () => {
    const plan = methodPlan(REUSE);
    expect(plan.cheapest).toBeNull();
    expect(plan.rows.every(({ fits }) => !fits)).toBe(true);
    expect(row(plan, 'braid').excursions.device).toBe(3);
    expect(plan.concession).toMatchObject({
      method: 'braid',
      deballing: 'braid',
      needs: [{ code: 'device-excursions', subject: { kind: 'device', name: 'D-1' }, asks: { allowed: 3, needed: 4 } }],
    });
  });

  it('takes the balls off a reused device by what spends none of it, and shows what the others would', () => {
    const plan = methodPlan({ ...REUSE, deviceBudget: budget('device-excursions', 0, 3) });
    expect(row(plan, 'braid')).toMatchObject({ fits: true, deballing: 'braid' });
    expect(
      row(plan, 'vacuum').deballingOptions.map(({ method, fits, deviceExcursions }) => [
        method,
        fits,
        deviceExcursions,
      ]),
    ).toEqual([
      ['braid', true, 3],
      ['vacuum', true, 3],
      ['fountain', false, 4],
      ['coupon', false, 4],
    ]);
  });

  it('counts what is used and reserved against what is allowed, and stops where the limit holds', () => {
    const spent = { ...ORDINARY, siteBudgets: [budget('site-reworks', 2, 3, { reserved: 1 })] };
    const plan = methodPlan(spent);
    expect(plan.rows.every(({ fits }) => !fits)).toBe(true);
    expect(plan.concession?.needs).toMatchObject([{ code: 'site-reworks', asks: { allowed: 3, needed: 4 } }]);
    const bare = methodPlan({ ...spent, stage: 'bare' });
    expect(bare.rows.every(({ fits }) => fits)).toBe(true);
    const warned = methodPlan({ ...ORDINARY, siteBudgets: [budget('site-dressings', 6, 6, { action: 'warn' })] });
    expect(row(warned, 'braid')).toMatchObject({ fits: true, reasons: [{ code: 'site-dressings', blocks: false }] });
  });

  it('keeps a fountain off pads that it would thin too far, and braid where it would not', () => {
    const thin = { ...ORDINARY.copper, left: { leftUm: 20, certainty: 'estimate' as const } };
    const plan = methodPlan({ ...ORDINARY, copper: thin });
    expect(row(plan, 'fountain')).toMatchObject({ fits: false, reasons: [{ code: 'pad-copper-min', blocks: true }] });
    expect(row(plan, 'braid').fits).toBe(true);
    // 15 s at .95 um/s, then 1.2 wt% less .5 of a .60 mm ball at 245 C: computed from assumed figures.
    expect(row(plan, 'fountain').copperLeftUm).toBeCloseTo(20 - 14.25 - 4.1, 3);
  });

  it('says nothing of copper behind nickel', () => {
    const copper = { ...ORDINARY.copper, left: { leftUm: null, certainty: 'not-modelled' as const } };
    const plan = methodPlan({ ...ORDINARY, copper, site: { ...ORDINARY.site, finish: 'enig' } });
    expect(row(plan, 'fountain')).toMatchObject({
      fits: true,
      copperLeftUm: null,
      copperCertainty: 'not-modelled',
      reasons: [],
    });
  });

  // Fact of the trade, common practice, no source: a lead-free conversion must come out below .1 wt%.
  it('brings a lead-free conversion below 0.1 wt% by flushes, which take time and copper', () => {
    const lead = { ...ORDINARY.lead, remnantAlloy: 'Sn63Pb37' };
    const plan = methodPlan({ ...ORDINARY, lead });
    for (const { leadPct } of plan.rows) expect(leadPct ?? 1).toBeLessThan(0.1);
    const plain = methodPlan(ORDINARY);
    expect(row(plan, 'braid').passes).toBeGreaterThan(1);
    expect(row(plan, 'braid').minutes).toBeGreaterThan(row(plain, 'braid').minutes);
    expect(row(plan, 'fountain').passes).toBe(1);
  });

  it('warns of an estimate over the limit, and of a bath that nobody analysed, without stopping', () => {
    const dirty = methodPlan({ ...ORDINARY, lead: { ...ORDINARY.lead, bathLeadPct: 3 } });
    expect(row(dirty, 'fountain')).toMatchObject({ fits: true, reasons: [{ code: 'joint-lead-max', blocks: false }] });
    const { bathLeadPct, ...unanalysed } = ORDINARY.lead;
    expect(bathLeadPct).toBeDefined();
    expect(row(methodPlan({ ...ORDINARY, lead: unanalysed }), 'fountain').reasons).toMatchObject([
      { code: 'lead-unknown' },
    ]);
    const strange = methodPlan({ ...ORDINARY, lead: { ...ORDINARY.lead, remnantAlloy: 'pewter' } });
    expect(row(strange, 'braid')).toMatchObject({ leadPct: null, fits: true, copperCertainty: 'at-most' });
  });

  it('spares neighbours the heat of a coupon where another method fits', () => {
    const verdicts = { removal: 'clear', placement: 'possible', fountain: 'counts', coupon: 'counts' } as const;
    const neighbour = { refdes: 'U8', verdicts, budget: budget('device-excursions', 3, 3) };
    const plan = methodPlan({ ...ORDINARY, neighbours: [neighbour] });
    expect(row(plan, 'coupon')).toMatchObject({
      fits: false,
      excursions: { neighbours: [{ refdes: 'U8', counted: 1, possible: 1, fits: false }] },
    });
    expect(row(plan, 'braid')).toMatchObject({
      fits: true,
      excursions: { neighbours: [{ refdes: 'U8', counted: 0, possible: 1, fits: true }] },
      reasons: [{ code: 'neighbour-possible', blocks: false }],
    });
    const counting = methodPlan({ ...ORDINARY, neighbours: [{ ...neighbour, countPossible: true }] });
    expect(row(counting, 'braid').fits).toBe(false);
  });

  it('still minds the copper that placement takes from a site that is dressed already', () => {
    const copper = { ...ORDINARY.copper, left: { leftUm: 12, certainty: 'estimate' as const } };
    const plan = methodPlan({ ...ORDINARY, stage: 'dressed', copper });
    expect(plan.rows.map(({ passes, fits }) => [passes, fits])).toEqual(DRESSING_METHODS.map(() => [0, false]));
    expect(plan.concession?.needs).toMatchObject([{ code: 'pad-copper-min', asks: { allowed: 10, needed: 7.9 } }]);
  });

  it('keeps to the methods that the house allows', () => {
    const plan = methodPlan({ ...ORDINARY, methodsAllowed: { methods: ['vacuum'], action: 'hold' } });
    expect(plan.rows.filter(({ fits }) => fits).map(({ method }) => method)).toEqual(['vacuum']);
    expect(row(plan, 'braid').reasons).toMatchObject([{ code: 'method-allowed', asks: { needed: 'braid' } }]);
  });

  it('says that a history is unknown without stopping for it', () => {
    const deviceBudget = budget('device-excursions', 0, 3, { historyUnknown: true });
    const plan = methodPlan({ ...ORDINARY, deviceBudget });
    expect(row(plan, 'braid')).toMatchObject({ fits: true, reasons: [{ code: 'history-unknown', blocks: false }] });
  });

  it('never fits more where less is left, and answers in numbers', () => {
    const count = fc.integer({ min: 0, max: 5 });
    fc.assert(
      fc.property(count, count, fc.double({ min: 0, max: 40, noNaN: true }), (used, more, leftUm) => {
        const at = (spent: number) =>
          methodPlan({
            ...ORDINARY,
            siteBudgets: [budget('site-reworks', spent, 3)],
            copper: { ...ORDINARY.copper, left: { leftUm, certainty: 'estimate' } },
          });
        const [before, after] = [at(used), at(used + more)];
        for (const [i, { fits, minutes, copperLeftUm, leadPct }] of before.rows.entries()) {
          if (!fits) expect(after.rows[i]?.fits).toBe(false);
          expect([minutes, copperLeftUm, leadPct].every(Number.isFinite)).toBe(true);
        }
        expect(before.rows.filter(({ cheapest }) => cheapest)).toHaveLength(before.cheapest === null ? 0 : 1);
        expect(before.concession === undefined).toBe(before.cheapest !== null);
      }),
    );
  });
});
