import { byWeight, percent, placeOf, type RateLike, scaleEnd, ticksTo } from './rate-scale.js';

const rate = (low: number, at: number, high: number, verdict: RateLike['verdict'] = 'within'): RateLike => ({
  rate: at,
  interval: { low, high },
  verdict,
});

describe('The shared scale of rates', () => {
  it('follows the groups that are judged, not those of too few sites', () => {
    expect(scaleEnd([rate(0, 0.02, 0.2), rate(0.02, 0.5, 0.95, 'too-few')], 0.02)).toBeCloseTo(0.21);
    expect(scaleEnd([rate(0.02, 0.5, 0.95, 'too-few')], null)).toBeCloseTo(0.9975);
  });

  it('keeps the house rate in sight, ends at 100 %, and does not blow small rates up', () => {
    expect(scaleEnd([rate(0, 0.01, 0.02)], 0.4)).toBeCloseTo(0.42);
    expect(scaleEnd([rate(0.5, 0.9, 0.99)], 0.1)).toBe(1);
    expect(scaleEnd([rate(0, 0.001, 0.01)], 0.001)).toBe(0.1);
    expect(scaleEnd([], null)).toBe(0.1);
  });

  it('has few ticks, from 0 up to its end', () => {
    expect(ticksTo(0.1).map(percent)).toEqual(['0.0 %', '2.0 %', '4.0 %', '6.0 %', '8.0 %', '10.0 %']);
    expect(ticksTo(1)).toEqual([0, 0.2, 0.4, 0.6000000000000001, 0.8, 1]);
  });

  it('places dot and interval, and says where they are cut', () => {
    const whole = placeOf(rate(0.05, 0.1, 0.2), 0.2);
    expect(whole).toEqual({ lowPct: 25, dotPct: 50, highPct: 100, cut: false, dotCut: false });
    const cut = placeOf(rate(0.1, 0.5, 0.9), 0.2);
    expect(cut).toEqual({ lowPct: 50, dotPct: 100, highPct: 100, cut: true, dotCut: true });
  });
});

it('Groups that can be judged come before those of too few sites, the higher rate first', () => {
  const rates = [rate(0, 0.5, 1, 'too-few'), rate(0, 0.1, 0.2), rate(0.2, 0.3, 0.4, 'above')];
  expect(rates.toSorted(byWeight).map(({ rate: at }) => at)).toEqual([0.3, 0.1, 0.5]);
});
