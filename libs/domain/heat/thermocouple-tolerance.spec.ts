import { ASSUMED_THERMOCOUPLE, ThermocoupleKind, toleranceC } from './thermocouple-tolerance.js';

const K1: ThermocoupleKind = { type: 'K', class: 1 };
const K2: ThermocoupleKind = { type: 'K', class: 2 };

describe('thermocouple tolerance', () => {
  it.each([
    // IEC 60584, type K class 1: ±1.5 C to 375 C, then 0.004|t|.
    [K1, 217, 1.5],
    [K1, 375, 1.5],
    [K1, 500, 2],
    [K1, 1000, 4],
    // IEC 60584, type K class 2: ±2.5 C to 333 C, then 0.0075|t|.
    [K2, 217, 2.5],
    [K2, 333, 2.5],
    [K2, 400, 3],
    [K2, 1000, 7.5],
  ])('of %j at %d C is %d C either way (IEC 60584)', (kind, readingC, expectedC) => {
    expect(toleranceC(kind, readingC)).toBeCloseTo(expectedC, 9);
  });

  it.each([
    // From memory: J as K; T class 1 ±0.5 C or 0.004|t|, class 2 ±1 C or 0.0075|t|.
    [{ type: 'J', class: 1 }, 217, 1.5],
    [{ type: 'J', class: 2 }, 217, 2.5],
    [{ type: 'T', class: 1 }, 100, 0.5],
    [{ type: 'T', class: 2 }, 100, 1],
    [{ type: 'T', class: 2 }, 250, 1.875],
  ] as const)('of %j at %d C is %d C either way (from memory)', (kind, readingC, expectedC) => {
    expect(toleranceC(kind, readingC)).toBeCloseTo(expectedC, 9);
  });

  it('is never negative, also below freezing', () => {
    expect(toleranceC(K2, -40)).toBe(2.5);
  });

  it('is taken as that of type K class 2 where nobody says better (common practice, no source)', () => {
    expect(ASSUMED_THERMOCOUPLE).toEqual(K2);
  });
});
