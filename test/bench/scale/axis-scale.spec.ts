import { linearScale, logScale, placeOf, tickText, ticksOf } from './axis-scale.js';

describe('a linear axis', () => {
  it.each([
    [[3, 97], 100, [0, 20, 40, 60, 80, 100]],
    [[0.07], 0.08, [0, 0.02, 0.04, 0.06, 0.08]],
    [[4_000, 3_100], 4_000, [0, 1_000, 2_000, 3_000, 4_000]],
    [[0.3], 0.3, [0, 0.1, 0.2, 0.3]],
    [[0], 1, [0, 0.2, 0.4, 0.6, 0.8, 1]],
  ])('for %j goes from 0 to %d', (values, to, ticks) => {
    const scale = linearScale(values);
    expect(scale).toEqual({ kind: 'linear', from: 0, to });
    expect(ticksOf(scale)).toEqual(ticks);
  });

  it('places values in proportion', () => {
    const scale = linearScale([100]);
    expect([0, 25, 100].map((value) => placeOf(scale, value))).toEqual([0, 0.25, 1]);
  });
});

describe('a log axis', () => {
  it.each([
    [
      [10_000, 10_000_000],
      [10_000, 100_000, 1_000_000, 10_000_000],
    ],
    [
      [2_000, 6_000],
      [1_000, 2_000, 5_000, 10_000],
    ],
    [
      [0.3, 20],
      [0.1, 1, 10, 100],
    ],
    [
      [0.5, 0.7],
      [0.1, 0.2, 0.5, 1],
    ],
    [[1_000], [1_000, 2_000, 5_000, 10_000]],
  ])('for %j has the ticks %j', (values, ticks) => {
    expect(ticksOf(logScale(values))).toEqual(ticks);
  });

  it('gives each decade the same room', () => {
    const scale = logScale([10, 10_000]);
    const places = [10, 100, 1_000, 10_000].map((value) => placeOf(scale, value));
    for (const [n, place] of places.entries()) expect(place).toBeCloseTo(n / 3, 12);
    expect(placeOf(scale, Math.sqrt(1_000))).toBeCloseTo(1 / 6, 12);
  });

  it('takes nothing that has no logarithm', () => {
    for (const values of [[0, 1], [-1], [NaN], []]) expect(() => logScale(values)).toThrow('above 0');
  });
});

describe('the text of a tick', () => {
  it.each([
    [0, '0'],
    [0.25, '0.25'],
    [950, '950'],
    [1_500, '1.5k'],
    [10_000_000, '10M'],
    [2e9, '2G'],
  ])('of %d is %s', (value, text) => {
    expect(tickText(value)).toBe(text);
  });
});
