import fc from 'fast-check';
import { copperRate } from './copper-rate.js';
import { DEFAULT_RATES, withRates } from './rate-table.js';
import { rateTableProblems } from './rate-table-problems.js';

function umPerS(alloy: string, solderC: number, flowing: boolean): number {
  const rate = copperRate(alloy, solderC, flowing);
  if (rate.kind === 'unknown') throw new Error(rate.detail);
  return rate.umPerS;
}

const ALLOYS = Object.keys(DEFAULT_RATES.rates);

describe('the rate at which solder dissolves copper', () => {
  // Computed from the default model: an assumption with low confidence, since no absolute rate was found in public.
  it.each([
    ['SAC305', 250, true, 0.7334],
    ['SAC305', 260, true, 0.95],
    ['SAC305', 275, true, 1.3759],
    ['SAC405', 270, true, 1.2798],
    ['Sn99.3Cu0.7Ni', 265, true, 0.4309],
    ['Sn63Pb37', 250, true, 0.33],
    ['SAC305', 250, false, 0.1544],
  ] as const)('is for %s at %d C (flowing: %s) %d um/s', (alloy, solderC, flowing, expected) => {
    expect(Number(umPerS(alloy, solderC, flowing).toFixed(4))).toBe(expected);
  });

  // Computed from the default model.
  it.each([
    ['SAC305', 260, '15.79'],
    ['SAC305', 255, '17.95'],
    ['Sn99.3Cu0.7Ni', 265, '34.81'],
    ['Sn63Pb37', 250, '45.45'],
  ] as const)('takes 15 um by flowing %s at %d C in %s s', (alloy, solderC, seconds) => {
    expect((15 / umPerS(alloy, solderC, true)).toFixed(2)).toBe(seconds);
  });

  // Published orderings: SAC more than twice Sn63Pb37; Sn99.3Cu0.7Ni lowest; more silver faster.
  it('keeps the published orderings', () => {
    const at260 = (alloy: string): number => umPerS(alloy, 260, true);
    expect(at260('SAC305')).toBeGreaterThan(2 * at260('Sn63Pb37'));
    expect(Math.min(...ALLOYS.map(at260))).toBe(at260('Sn99.3Cu0.7Ni'));
    expect(at260('SAC405')).toBeGreaterThan(at260('SAC305'));
    expect(at260('Sn96.5Ag3.5')).toBeGreaterThan(at260('SAC405'));
  });

  it('says that it is an assumption, and when it leaves its range', () => {
    expect(copperRate('SAC305', 260, true)).toMatchObject({ label: 'assumption', extrapolated: false });
    expect(copperRate('SAC305', 260, true)).toHaveProperty('source', expect.stringContaining('Assumption'));
    expect(copperRate('SAC305', 320, true)).toMatchObject({ kind: 'rate', extrapolated: true });
  });

  it('gives no figure where it has none', () => {
    expect(copperRate('Sn42Bi58', 200, false)).toMatchObject({ kind: 'unknown', problem: 'unknown-alloy' });
    expect(copperRate('toString', 260, false)).toMatchObject({ kind: 'unknown', problem: 'unknown-alloy' });
    expect(copperRate('SAC305', 200, false)).toMatchObject({ kind: 'unknown', problem: 'not-molten' });
    expect(copperRate('SAC305', 451, false)).toMatchObject({ kind: 'unknown', problem: 'temperature-out-of-range' });
    expect(copperRate('SAC305', Number.NaN, false)).toMatchObject({ kind: 'unknown' });
  });

  it('takes measured rates in place of those assumed, alloy by alloy', () => {
    const measured = {
      flowingUmPerS: 0.5,
      stillUmPerS: 0.1,
      label: 'measured',
      source: 'Sections of coupons',
    } as const;
    const table = withRates(DEFAULT_RATES, { SAC305: measured });
    expect(copperRate('SAC305', 260, true, table)).toMatchObject({ umPerS: 0.5, label: 'measured' });
    expect(copperRate('SAC405', 260, true, table)).toMatchObject({ label: 'assumption' });
  });

  it('rises with temperature, and faster flowing than still', () => {
    const temperature = fc.double({ min: 227, max: 450, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...ALLOYS), temperature, temperature, (alloy, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(umPerS(alloy, high, true)).toBeGreaterThanOrEqual(umPerS(alloy, low, true));
        expect(umPerS(alloy, a, true)).toBeGreaterThan(umPerS(alloy, a, false));
      }),
    );
  });

  it('is never something that is no number', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.constantFrom(...ALLOYS), fc.string()),
        fc.double(),
        fc.boolean(),
        (alloy, solderC, flowing) => {
          const rate = copperRate(alloy, solderC, flowing);
          if (rate.kind === 'rate') expect(Number.isFinite(rate.umPerS) && rate.umPerS >= 0).toBe(true);
        },
      ),
    );
  });
});

describe('a rate table that somebody entered', () => {
  it('is taken as it stands where every figure can be', () => {
    expect(rateTableProblems(DEFAULT_RATES)).toEqual([]);
  });

  it('is told where it cannot be used', () => {
    const rate = { flowingUmPerS: -1, stillUmPerS: Number.NaN, label: 'measured', source: '' } as const;
    const table = { ...withRates(DEFAULT_RATES, { 'A/B': rate }), activationJPerMol: Infinity };
    expect(rateTableProblems(table).map(({ pointer }) => pointer)).toEqual([
      '/activationJPerMol',
      '/rates/A~1B/flowingUmPerS',
      '/rates/A~1B/stillUmPerS',
    ]);
  });
});
