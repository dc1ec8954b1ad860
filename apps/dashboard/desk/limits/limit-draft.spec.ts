import { bodyOf, draftOf, saysNothingNew } from './limit-draft.js';
import type { LimitBody } from './limit-words.js';

const limit = (given: Partial<LimitBody> = {}): LimitBody => ({
  kind: 'device-excursions',
  allowed: 3,
  unit: 'excursions',
  scope: { customer: 'Thimblewick' },
  action: 'hold',
  source: 'House policy',
  ...given,
});

describe('A limit that is being written', () => {
  it('comes out as it went in, whatever is allowed', () => {
    const kinds: readonly LimitBody[] = [
      limit({ countPossible: true }),
      limit({ kind: 'method-allowed', allowed: ['braid', 'coupon'], scope: {} }),
      limit({ kind: 'flatness-max', allowed: [{ pitchMm: 0.5, max: 0.08 }] }),
      limit({ kind: 'flatness-max', allowed: 0.1 }),
      limit({ kind: 'calibrated-station', allowed: 0, action: 'warn' }),
    ];
    for (const one of kinds) {
      expect(bodyOf(draftOf(one))).toEqual(one);
      expect(saysNothingNew(draftOf(one), one)).toBe(true);
    }
  });

  it('does not take over from when it was in force, and is new where only that is said', () => {
    const waiting = limit({ effectiveFrom: '2026-05-01T00:00:00.000Z' });
    const draft = draftOf(waiting);
    expect(bodyOf(draft)).not.toHaveProperty('effectiveFrom');
    const later = { ...draft, effectiveFrom: '2026-06-01T00:00' };
    expect(bodyOf(later).effectiveFrom).toBe(new Date(2026, 5, 1).toISOString());
    expect(saysNothingNew(later, waiting)).toBe(false);
  });

  it('leaves an empty scope out, and counts possible excursions of budgets only', () => {
    const scope = { customer: ' ', assembly: 'A-1 ', part: '', refdes: '' };
    expect(bodyOf({ ...draftOf(limit()), scope }).scope).toEqual({ assembly: 'A-1' });
    const copper = draftOf(limit({ kind: 'pad-copper-min', unit: 'um', allowed: 10 }));
    expect(bodyOf({ ...copper, countPossible: true })).not.toHaveProperty('countPossible');
  });
});
