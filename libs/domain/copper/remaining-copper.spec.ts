import fc from 'fast-check';
import { copperLost } from './copper-lost.js';
import { intermetallicGrowth } from './intermetallic-growth.js';
import { DEFAULT_RATES, withRates } from './rate-table.js';
import { CopperContact, remainingCopper } from './remaining-copper.js';

const SITE = { padCopperUm: 35, padDiameterMm: 0.45, finish: 'osp', ballDiameterMm: 0.6 } as const;

const FOUNTAIN: CopperContact = {
  kind: 'dressing',
  what: 'first dressing',
  method: 'fountain',
  solderAlloy: 'SAC305',
  contactSeconds: 15,
  solderC: 260,
  flowing: true,
};
const PLACEMENT: CopperContact = {
  kind: 'closed-joint',
  what: 'placement',
  solderAlloy: 'SAC305',
  solderC: 250,
  freshSolder: true,
};

describe('copper lost to one dressing', () => {
  it('is rate times seconds, without a cap', () => {
    const contact = { method: 'fountain', solderAlloy: 'SAC305', solderC: 260, flowing: true } as const;
    // Computed from the assumed model: .95 um/s.
    expect(copperLost({ ...contact, contactSeconds: 15.789473684 }).lostUm).toBeCloseTo(15, 6);
    expect(copperLost({ ...contact, contactSeconds: 100 }).lostUm).toBeCloseTo(95, 6);
  });

  it('says what it took for granted where the station did not', () => {
    const loss = copperLost({ method: 'braid', solderAlloy: 'SAC305', contactSeconds: 5 });
    expect(loss.lostUm).toBeCloseTo(1, 9);
    expect(loss.why.join(' ')).toMatch(/taken to be at 260 C.*no source.*taken to be still/s);
    expect(loss.basis).toBe('assumed');
  });

  it('is measured only where rate, temperature and flow all are known', () => {
    const rate = { flowingUmPerS: 0.5, stillUmPerS: 0.1, label: 'measured', source: 'Sections of coupons' } as const;
    const table = withRates(DEFAULT_RATES, { SAC305: rate });
    const contact = { method: 'fountain', solderAlloy: 'SAC305', contactSeconds: 10, solderC: 260 } as const;
    expect(copperLost({ ...contact, flowing: true }, table)).toMatchObject({ lostUm: 5, basis: 'measured' });
    expect(copperLost(contact, table)).toMatchObject({ lostUm: 5, basis: 'assumed' });
    expect(copperLost({ ...contact, flowing: true }).basis).toBe('assumed');
  });

  it('is unknown for solder without a rate', () => {
    const loss = copperLost({ method: 'braid', solderAlloy: 'Sn42Bi58', contactSeconds: 5 });
    expect(loss).toMatchObject({ lostUm: null, rate: { kind: 'unknown' } });
    expect(() => copperLost({ method: 'braid', solderAlloy: 'SAC305', contactSeconds: -1 })).toThrow(RangeError);
  });
});

describe('copper left on a site', () => {
  it('is what the design says less every contact, shown one by one', () => {
    const left = remainingCopper(SITE, [PLACEMENT, FOUNTAIN, PLACEMENT]);
    expect(left.rows.map(({ lostUm }) => Number(lostUm?.toFixed(2)))).toEqual([4.69, 14.25, 4.69]);
    expect(left.leftUm).toBeCloseTo(35 - 4.6857 - 14.25 - 4.6857, 3);
    expect(left).toMatchObject({ startUm: 35, certainty: 'estimate', basis: 'assumed' });
    expect(left.lostUm + (left.leftUm ?? 0)).toBeCloseTo(35, 9);
  });

  it('loses nothing more when the same solder melts again no hotter, and a little when it does', () => {
    const again = { ...PLACEMENT, what: 'oven pass', freshSolder: false };
    const losses = (solderC: number) =>
      remainingCopper(SITE, [
        { ...PLACEMENT, solderC: 240 },
        { ...again, solderC },
      ]).rows.map(({ lostUm }) => lostUm);
    expect(losses(240)[1]).toBe(0);
    expect(losses(230)[1]).toBe(0);
    // 4.69 um at 250 C less 3.51 um at 240 C.
    expect(losses(250)[1]).toBeCloseTo(4.6857 - 3.5143, 3);
  });

  it('stops at a nickel finish and says so', () => {
    const left = remainingCopper({ ...SITE, finish: 'enig' }, [FOUNTAIN]);
    expect(left).toMatchObject({
      leftUm: null,
      certainty: 'not-modelled',
      stops: { reason: 'nickel-finish' },
      rows: [],
    });
  });

  it('says `at most` where a contact is unknown, and never falls below nothing', () => {
    const unknown = { ...FOUNTAIN, solderAlloy: 'Sn42Bi58' };
    expect(remainingCopper(SITE, [unknown, FOUNTAIN])).toMatchObject({ certainty: 'at-most', leftUm: 35 - 14.25 });
    expect(remainingCopper(SITE, [FOUNTAIN, FOUNTAIN, FOUNTAIN]).leftUm).toBe(0);
    expect(remainingCopper(SITE, []).leftUm).toBe(35);
    expect(() => remainingCopper({ ...SITE, padCopperUm: Number.NaN }, [])).toThrow(RangeError);
  });

  it('shrinks with time, temperature and every further contact', () => {
    const contact = fc.record({
      kind: fc.constant('dressing' as const),
      what: fc.constant('dressing'),
      method: fc.constantFrom('braid', 'vacuum', 'fountain', 'coupon'),
      solderAlloy: fc.constantFrom(...Object.keys(DEFAULT_RATES.rates)),
      contactSeconds: fc.double({ min: 0, max: 60, noNaN: true }),
      solderC: fc.double({ min: 227, max: 300, noNaN: true }),
      flowing: fc.boolean(),
    });
    fc.assert(
      fc.property(
        fc.array(contact, { maxLength: 5 }),
        contact,
        fc.double({ min: 0, max: 50, noNaN: true }),
        (all, one, more) => {
          const left = (contacts: readonly CopperContact[]): number =>
            remainingCopper(SITE, contacts).leftUm ?? Number.NaN;
          const before = left([...all, one]);
          expect(before).toBeGreaterThanOrEqual(0);
          expect(before).toBeLessThanOrEqual(left(all));
          expect(left([...all, { ...one, contactSeconds: one.contactSeconds + more }])).toBeLessThanOrEqual(before);
          expect(left([...all, { ...one, solderC: one.solderC + more }])).toBeLessThanOrEqual(before);
        },
      ),
    );
  });
});

describe('intermetallic', () => {
  // Intermetallics 96 (2018) 1, published exponent; values computed.
  it.each([
    [1, 1],
    [2, 1.529],
    [3, 1.961],
    [4, 2.339],
    [5, 2.682],
    [6, 2.999],
  ])('after %d equal passes is %d times as thick', (passes, factor) => {
    expect(Number(intermetallicGrowth(passes).toFixed(3))).toBe(factor);
  });

  it('asks for a whole number of passes', () => {
    for (const passes of [0, -1, 1.5, Number.NaN, Infinity])
      expect(() => intermetallicGrowth(passes)).toThrow(RangeError);
  });
});
