import fc from 'fast-check';
import { ITS90 } from './its90-coefficients.js';
import { celsius, celsiusAtTip, Converted, millivolts, rangeC, ThermocoupleType } from './its90.js';

const TYPES: readonly ThermocoupleType[] = ['K', 'J', 'T'];

function value(result: Converted): number {
  if (!result.ok) throw new Error(result.problem);
  return result.value;
}

describe('the reference functions of ITS-90', () => {
  // NIST Monograph 175, type K.
  it.each([
    [25, 1.0002],
    [100, 4.0962],
    [150, 6.1383],
    [183, 7.4598],
    [217, 8.8194],
    [250, 10.1534],
    [260, 10.5613],
    [300, 12.2086],
  ])('give type K at %d C %d mV', (atC, mv) => {
    expect(Number(value(millivolts('K', atC)).toFixed(4))).toBe(mv);
  });

  // Printed tables of the same monograph, to the microvolt; from memory.
  it.each([
    ['K', -200, -5.891],
    ['K', -100, -3.554],
    ['K', 500, 20.644],
    ['K', 1000, 41.276],
    ['K', 1372, 54.886],
    ['J', -210, -8.095],
    ['J', 25, 1.277],
    ['J', 100, 5.269],
    ['J', 200, 10.779],
    ['J', 300, 16.327],
    ['J', 760, 42.919],
    ['J', 1200, 69.553],
    ['T', -200, -5.603],
    ['T', -100, -3.379],
    ['T', 25, 0.992],
    ['T', 100, 4.279],
    ['T', 200, 9.288],
    ['T', 300, 14.862],
    ['T', 400, 20.872],
  ] as const)('give type %s at %d C %d mV, as its table prints', (type, atC, mv) => {
    expect(Number(value(millivolts(type, atC)).toFixed(3))).toBe(mv);
  });

  it('begin at nought: a cold junction at 0 C adds nothing', () => {
    expect(millivolts('K', 0)).toEqual({ ok: true, value: 0 });
    // NIST Monograph 175: 8.138 mV of type K is 200 C (table point, from memory).
    const tip = celsiusAtTip('K', 8.138, 0);
    expect(tip.ok && tip.value).toBeCloseTo(200, 1);
  });

  it('take the cold junction into account by voltage', () => {
    expect(value(celsiusAtTip('K', 7.829, 25)).toFixed(2)).toBe('217.22');
    expect(value(celsiusAtTip('K', 0, 25))).toBeCloseTo(25, 1);
  });

  it('come back from mV to C within the published error of the inverse', () => {
    fc.assert(
      fc.property(fc.constantFrom(...TYPES), fc.double({ min: 0.001, max: 0.999, noNaN: true }), (type, share) => {
        const { from, to } = rangeC(type);
        const atC = from + share * (to - from);
        const back = value(celsius(type, value(millivolts(type, atC))));
        expect(Math.abs(back - atC)).toBeLessThanOrEqual(ITS90[type].inverseErrorC + 0.005);
      }),
      { numRuns: 2000 },
    );
  });

  it('rise all the way', () => {
    for (const type of TYPES) {
      const { from, to } = rangeC(type);
      for (let atC = from; atC < to; atC += 1) {
        expect(value(millivolts(type, atC + 1))).toBeGreaterThan(value(millivolts(type, atC)));
      }
    }
  });

  it('say so out of range, and never answer with something that is no number', () => {
    expect(millivolts('K', 1373)).toEqual({ ok: false, problem: 'above-range', range: { from: -200, to: 1372 } });
    expect(millivolts('T', 401)).toMatchObject({ problem: 'above-range' });
    expect(celsius('J', -8.2)).toMatchObject({ problem: 'below-range' });
    expect(celsius('K', Number.NaN)).toMatchObject({ problem: 'not-a-number' });
    expect(celsiusAtTip('K', 1, Number.POSITIVE_INFINITY)).toMatchObject({ problem: 'not-a-number' });
    expect(celsiusAtTip('T', 20.5, 25)).toMatchObject({ problem: 'above-range' });
  });
});
