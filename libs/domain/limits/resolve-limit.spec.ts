import { limitRule, partData, rulesOf } from '../../../test/support/domain-rules.js';
import { LimitKind, LimitRule } from './limit-rule.js';
import { LimitPlace, resolveLimit } from './resolve-limit.js';

const AT = '2031-03-03T12:00:00.000000000Z';
const HERE: LimitPlace = { customer: 'NORTH', assembly: 'BRD', part: 'CHIP', refdes: 'U1', at: AT };

/** Name of the limit that governs here, of those given beside the house's own. */
function governs(kind: LimitKind, limits: Record<string, Partial<LimitRule>>, place = HERE): string | undefined {
  const records = Object.entries(limits).map(([name, given]) => [name, limitRule(kind, given)] as const);
  return resolveLimit(rulesOf({ limit: Object.fromEntries(records) }), kind, place)?.name;
}

/** The same whatever the order in which the limits were entered. */
function wins(kind: LimitKind, winner: Partial<LimitRule>, loser: Partial<LimitRule>): void {
  expect(governs(kind, { a: winner, b: loser })).toBe('a');
  expect(governs(kind, { b: loser, a: winner })).toBe('a');
  expect(governs(kind, { b: winner, a: loser })).toBe('b');
}

describe('the limit that governs', () => {
  it("is the house's where no other matches", () => {
    expect(governs('site-reworks', {})).toBe('site-reworks');
    expect(governs('site-reworks', { other: { scope: { assembly: 'ELSE' } } })).toBe('site-reworks');
  });

  it('is the one with most scope fields, looser or stricter', () => {
    wins(
      'site-reworks',
      { allowed: 9, scope: { assembly: 'BRD', refdes: 'U1' } },
      { allowed: 1, scope: { refdes: 'U1' } },
    );
    wins('site-reworks', { allowed: 1, scope: { customer: 'NORTH' } }, { allowed: 9, scope: {} });
    wins(
      'site-reworks',
      { allowed: 9, scope: { customer: 'NORTH', assembly: 'BRD', part: 'CHIP', refdes: 'U1' } },
      { allowed: 1, scope: { customer: 'NORTH', assembly: 'BRD', part: 'CHIP' } },
    );
  });

  it('must match in every field of its scope', () => {
    const scope = { customer: 'NORTH', assembly: 'BRD', refdes: 'U2' };
    expect(governs('site-reworks', { x: { scope } })).toBe('site-reworks');
    expect(governs('site-reworks', { x: { scope } }, { ...HERE, refdes: 'U2' })).toBe('x');
  });

  it('is none that names what is unknown of the place', () => {
    expect(governs('device-excursions', { x: { scope: { customer: 'NORTH' } } }, { at: AT })).toBe('device-excursions');
  });

  it('is told in full: allowed, unit, source, revision and scope', () => {
    expect(resolveLimit(rulesOf(), 'device-excursions', HERE)).toMatchObject({
      name: 'device-excursions',
      revision: 1,
      allowed: 3,
      unit: 'excursions',
      action: 'hold',
      scope: {},
      countPossible: false,
    });
  });
});

describe('a tie between limits goes to the stricter', () => {
  it('that allows less', () => {
    wins('device-excursions', { allowed: 2, scope: { assembly: 'BRD' } }, { allowed: 4, scope: { part: 'CHIP' } });
    wins('void-fraction-max', { allowed: 0.25, scope: {} }, { allowed: 0.3, scope: {} });
  });

  it('that asks for more copper to be left', () => {
    wins('pad-copper-min', { allowed: 12, scope: { assembly: 'BRD' } }, { allowed: 10, scope: { refdes: 'U1' } });
  });

  it('that counts from farther below the solidus', () => {
    wins('guard-band', { allowed: 10, scope: { assembly: 'BRD' } }, { allowed: 5, scope: { refdes: 'U1' } });
  });

  it('that allows fewer methods', () => {
    wins(
      'method-allowed',
      { allowed: ['braid'], scope: { assembly: 'BRD' } },
      { allowed: ['braid', 'vacuum'], scope: { refdes: 'U1' } },
    );
  });

  it('that holds, where the figures are equal', () => {
    wins('site-dressings', { action: 'hold', scope: { assembly: 'BRD' } }, { action: 'warn', scope: { refdes: 'U1' } });
  });

  it('that counts possible excursions too, where figures and actions are equal', () => {
    wins(
      'device-excursions',
      { countPossible: true, scope: { assembly: 'BRD' } },
      { countPossible: false, scope: { refdes: 'U1' } },
    );
  });
});

describe("a part's own figure", () => {
  const rules = (maxExcursions: number, limits: Record<string, LimitRule> = {}) =>
    rulesOf({ part: { CHIP: partData({ maxExcursions }) }, limit: limits });
  const allowed = (...given: Parameters<typeof rules>) =>
    resolveLimit(rules(...given), 'device-excursions', HERE)?.allowed;

  it("is a limit scoped to that part: it wins over the house's, either way", () => {
    expect([allowed(1), allowed(5)]).toEqual([1, 5]);
  });

  it('loses to a limit with more scope fields', () => {
    const both = limitRule('device-excursions', { allowed: 4, scope: { part: 'CHIP', customer: 'NORTH' } });
    expect(allowed(1, { both })).toBe(4);
  });

  it('ties with other limits of one field: the stricter wins', () => {
    const byRefdes = (figure: number) => ({
      it: limitRule('device-excursions', { allowed: figure, scope: { refdes: 'U1' } }),
    });
    expect([allowed(2, byRefdes(1)), allowed(2, byRefdes(3))]).toEqual([1, 2]);
  });

  it('names the part and its maker as its source', () => {
    expect(resolveLimit(rules(1), 'device-excursions', HERE)).toMatchObject({
      scope: { part: 'CHIP' },
      action: 'hold',
      source: expect.stringContaining('CHIP') as string,
    });
  });

  it('says nothing of other kinds and other parts', () => {
    expect(resolveLimit(rules(1), 'site-reworks', HERE)?.allowed).toBe(3);
    expect(resolveLimit(rules(1), 'device-excursions', { ...HERE, part: 'OTHER' })?.allowed).toBe(3);
  });
});
