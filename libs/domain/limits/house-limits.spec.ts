import { HOUSE_LIMITS } from './house-limits.js';
import { LIMIT_KINDS } from './limit-rule.js';

describe('the limits of a new book', () => {
  it('are one of each kind, without scope, each with a source', () => {
    expect([...HOUSE_LIMITS.keys()].sort()).toEqual([...LIMIT_KINDS].sort());
    for (const [kind, rule] of HOUSE_LIMITS) {
      expect(rule).toMatchObject({ kind, scope: {} });
      expect(rule.source.length).toBeGreaterThan(10);
    }
  });

  it.each([
    // J-STD-020: three passes in classification.
    ['device-excursions', 3, 'hold'],
    // House policy: no standard sets a figure.
    ['site-reworks', 3, 'hold'],
    ['site-dressings', 6, 'warn'],
    ['site-excursions', 8, 'warn'],
    // IPC-TM-650 2.6.27, default count from memory.
    ['unit-reflows', 6, 'hold'],
    // Xia et al., SMTA 2012.
    ['pad-copper-min', 10, 'hold'],
    // Directive 2011/65/EU.
    ['joint-lead-max', 0.1, 'hold'],
    // IPC-A-610 revision F and later, from memory.
    ['void-fraction-max', 0.3, 'hold'],
    // House policy.
    ['guard-band', 5, 'warn'],
    ['method-allowed', ['braid', 'vacuum', 'fountain', 'coupon'], 'hold'],
  ] as const)('allow for %s %p (%s)', (kind, allowed, action) => {
    expect(HOUSE_LIMITS.get(kind)).toMatchObject({ allowed, ...(kind === 'guard-band' ? {} : { action }) });
  });

  it.each([
    ['qualified-operator', 'warn'],
    ['calibrated-station', 'hold'],
    ['profile-window', 'hold'],
    ['clearance-required', 'warn'],
    ['flatness-max', 'hold'],
    ['body-peak-max', 'hold'],
    ['floor-life', 'hold'],
  ] as const)('take a breach of %s as a reason to %s', (kind, action) => {
    expect(HOUSE_LIMITS.get(kind)?.action).toBe(action);
  });
});
