import fc from 'fast-check';
import { HOUSE_LIMITS } from '../limits/house-limits.js';
import { bowAndTwist } from './bow-and-twist.js';
import { allowedFlatnessMm, judgeFlatness } from './judge-flatness.js';
import { voidAreaFraction, voidFractions } from './void-fractions.js';

const HOUSE = HOUSE_LIMITS.get('flatness-max')?.allowed ?? 0;

describe('flatness by pitch', () => {
  // Coplanarity by pitch as makers give it; from memory. Where a range is given (.80, 1.0 and 1.27 mm) the house takes its upper end.
  it.each([
    [0.4, 0.08],
    [0.5, 0.08],
    [0.65, 0.1],
    [0.8, 0.12],
    [1.0, 0.2],
    [1.27, 0.2],
  ])('allows at %d mm pitch %d mm', (pitchMm, allowedMm) => {
    expect(allowedFlatnessMm(HOUSE, pitchMm)).toBe(allowedMm);
  });

  it('has no limit for what is coarser than its rows, and takes a single figure for all', () => {
    expect(allowedFlatnessMm(HOUSE, 1.5)).toBeNull();
    expect(allowedFlatnessMm(0.1, 1.5)).toBe(0.1);
    expect(allowedFlatnessMm(['braid'], 0.5)).toBeNull();
  });

  it('judges by the seating plane and shows the other beside it', () => {
    const bowl = [-1, 0, 1].flatMap((xMm) => [-1, 0, 1].map((yMm) => ({ xMm, yMm, zUm: 50 * (xMm ** 2 + yMm ** 2) })));
    const verdict = judgeFlatness(bowl, 0.5, HOUSE);
    expect(verdict).toMatchObject({
      kind: 'verdict',
      deviationMm: expect.closeTo(0.1, 9) as number,
      allowedMm: 0.08,
      passes: false,
    });
    expect(judgeFlatness(bowl, 1, HOUSE)).toMatchObject({ passes: true });
    expect(judgeFlatness(bowl, 2, HOUSE)).toMatchObject({ passes: null, allowedMm: null });
    expect(judgeFlatness([], 1, HOUSE)).toMatchObject({ kind: 'problem' });
  });
});

describe('voids', () => {
  it('gives each joint, the worst and the mean', () => {
    const voids = [
      { joint: 'A1', fraction: 0.1 },
      { joint: 'A2', fraction: 0.3 },
      { joint: 'A1', fraction: 0.05 },
    ];
    const found = voidFractions(voids);
    expect(found.joints.map(({ fraction }) => Number(fraction.toFixed(9)))).toEqual([0.15, 0.3]);
    expect(found).toMatchObject({ worst: { joint: 'A2' }, mean: expect.closeTo(0.225, 9) as number });
    expect(voidFractions([])).toEqual({ joints: [], worst: null, mean: null });
  });

  // 7095A, in-ball void, % of diameter and of area, classes 1, 2 and 3; from memory.
  it.each([
    [60, 36],
    [45, 20.25],
    [30, 9],
  ])('turns %d %% of the diameter into %d %% of the area', (ofDiameter, ofArea) => {
    expect(100 * voidAreaFraction(ofDiameter / 100)).toBeCloseTo(ofArea, 9);
  });

  it('turns down what is no share, and is never something that is no number', () => {
    for (const fraction of [-0.1, 1.1, Number.NaN]) {
      expect(() => voidFractions([{ joint: 'A1', fraction }])).toThrow(RangeError);
      expect(() => voidAreaFraction(fraction)).toThrow(RangeError);
    }
    const voids = fc.record({
      joint: fc.constantFrom('A1', 'A2', 'B1'),
      fraction: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(voids, { minLength: 1 }), (all) => {
        const { worst, mean } = voidFractions(all);
        expect(mean ?? Number.NaN).toBeLessThanOrEqual((worst?.fraction ?? Number.NaN) + 1e-12);
      }),
    );
  });
});

describe('bow and twist', () => {
  // .75 % with surface-mount parts, 1.5 % without (published); 250 mm -> 1.875 mm computed.
  it('allows 1.875 mm over 250 mm, and twice that without surface-mount parts', () => {
    expect(bowAndTwist(250, 1.875)).toMatchObject({ percent: 0.75, allowedMm: 1.875, passes: true });
    expect(bowAndTwist(250, 1.876).passes).toBe(false);
    expect(bowAndTwist(250, 3.75, false)).toMatchObject({ allowedMm: 3.75, passes: true });
  });

  it('turns down lengths that are none', () => {
    expect(() => bowAndTwist(0, 1)).toThrow(RangeError);
    expect(() => bowAndTwist(250, Number.NaN)).toThrow(RangeError);
  });
});
