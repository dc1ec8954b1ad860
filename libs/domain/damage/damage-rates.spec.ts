import { damageRates, DamageRow } from './damage-rates.js';

const ROWS: readonly DamageRow[] = [
  { operator: 'op-1', method: 'braid', station: 'bench-1', sites: 200, damaged: 2 },
  { operator: 'op-2', method: 'braid', station: 'bench-1', sites: 60, damaged: 9 },
  { operator: 'op-2', method: 'vacuum', station: 'bench-2', sites: 40, damaged: 0 },
  { operator: 'op-3', method: 'braid', sites: 3, damaged: 1 },
];

function verdictOf(rows: readonly DamageRow[], name: string, houseRate?: number) {
  const found = damageRates(rows, houseRate).rates.find((rate) => rate.name === name);
  if (found === undefined) throw new Error(`no rate for ${name}`);
  return found;
}

describe('damage rates', () => {
  it('are told by operator, by method and by station', () => {
    const { rates } = damageRates(ROWS, 0.03);
    expect(rates.map(({ by, name, sites, damaged }) => [by, name, sites, damaged])).toEqual([
      ['operator', 'op-1', 200, 2],
      ['operator', 'op-2', 100, 9],
      ['operator', 'op-3', 3, 1],
      ['method', 'braid', 263, 12],
      ['method', 'vacuum', 40, 0],
      ['station', 'bench-1', 260, 11],
      ['station', 'bench-2', 40, 0],
    ]);
  });

  it('flag who lies above the house rate with the whole interval, and nobody else', () => {
    expect(verdictOf(ROWS, 'op-2', 0.03)).toMatchObject({ verdict: 'above', rate: 0.09 });
    expect(verdictOf(ROWS, 'op-2', 0.05).verdict).toBe('within');
    expect(verdictOf(ROWS, 'op-1', 0.03).verdict).toBe('within');
    expect(verdictOf(ROWS, 'op-1', 0.08).verdict).toBe('below');
  });

  it('say nothing of small numbers', () => {
    expect(verdictOf(ROWS, 'op-3', 0.03)).toMatchObject({
      verdict: 'too-few',
      interval: { low: expect.any(Number) as number },
    });
    const mishap: DamageRow[] = [{ operator: 'op-4', sites: 12, damaged: 1 }];
    expect(verdictOf(mishap, 'op-4', 0.001).verdict).toBe('within');
  });

  it('take the rate over all rows where the house has set none', () => {
    expect(damageRates(ROWS)).toMatchObject({ houseRate: 12 / 303, houseRateFrom: 'all rows' });
    expect(damageRates([])).toEqual({ houseRate: null, houseRateFrom: 'all rows', rates: [] });
    expect(verdictOf([{ operator: 'op-5', sites: 0, damaged: 0 }], 'op-5')).toMatchObject({
      rate: 0,
      verdict: 'too-few',
    });
  });

  it('turn down counts that do not fit', () => {
    expect(() => damageRates([{ sites: 1, damaged: 2 }])).toThrow(RangeError);
    expect(() => damageRates([{ sites: Number.NaN, damaged: 0 }])).toThrow(RangeError);
    expect(() => damageRates([], 2)).toThrow(RangeError);
  });
});
