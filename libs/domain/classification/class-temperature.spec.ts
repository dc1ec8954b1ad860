import fc from 'fast-check';
import { classTemperature } from './class-temperature.js';
import { profileFigures } from './profile-figures.js';

function classC(lengthMm: number, widthMm: number, thicknessMm: number, leadFree = true): number {
  return classTemperature({ lengthMm, widthMm, thicknessMm, leadFree }).classC;
}

/** A square body of this thickness and volume. */
function ofVolume(volumeMm3: number, thicknessMm: number, leadFree = true): number {
  return classC(volumeMm3 / thicknessMm, 1, thicknessMm, leadFree);
}

describe('class temperature', () => {
  it.each([
    [1.59, [260, 260, 260]],
    [1.6, [260, 250, 245]],
    [2.5, [260, 250, 245]],
    [2.51, [250, 245, 245]],
  ])('J-STD-020 D/E Table 4-2, Pb-free, published: %d mm', (mm, row) => {
    expect([349.9, 350, 2000.1].map((volume) => ofVolume(volume, mm))).toEqual(row);
    expect(ofVolume(2000, mm)).toBe(row[1]);
  });

  it.each([
    [2.49, [235, 220, 220]],
    [2.5, [220, 220, 220]],
  ])('J-STD-020 D/E Table 4-1, SnPb, from memory: %d mm', (mm, row) => {
    expect([349.9, 350, 2000.1].map((volume) => ofVolume(volume, mm, false))).toEqual(row);
  });

  it('gives the worked bodies (computed by hand from the tables)', () => {
    const first = classTemperature({ lengthMm: 23, widthMm: 23, thicknessMm: 1.2, leadFree: true });
    expect(first).toMatchObject({ volumeMm3: 634.8, classC: 260, table: 'Pb-free', source: 'inferred' });
    const second = classTemperature({ lengthMm: 17, widthMm: 17, thicknessMm: 1.6, leadFree: true });
    expect(second).toMatchObject({ volumeMm3: 462.4, classC: 250, row: '1.6 to 2.5 mm, 350 to 2000 mm3' });
    expect(classTemperature({ lengthMm: 35, widthMm: 35, thicknessMm: 2, leadFree: true })).toMatchObject({
      volumeMm3: 2450,
      classC: 245,
    });
    expect([ofVolume(349, 3), ofVolume(350, 3)]).toEqual([250, 245]);
    expect([ofVolume(349, 2, false), ofVolume(350, 2, false)]).toEqual([235, 220]);
  });

  it("prefers the maker's own figure", () => {
    const body = { lengthMm: 35, widthMm: 35, thicknessMm: 2, leadFree: true, classificationC: 250 };
    expect(classTemperature(body)).toMatchObject({ classC: 250, source: 'declared', row: 'declared', volumeMm3: 2450 });
  });

  it('refuses a body without size', () => {
    expect(() => classC(0, 10, 1)).toThrow(RangeError);
    expect(() => classC(10, NaN, 1)).toThrow(RangeError);
    expect(() => classC(1e200, 1e200, 1)).toThrow(RangeError);
  });

  it('never rises with a larger or thicker body', () => {
    const mm = fc.double({ min: 0.2, max: 60, noNaN: true });
    const thick = fc.double({ min: 0.2, max: 5, noNaN: true });
    fc.assert(
      fc.property(mm, mm, thick, thick, fc.boolean(), (length, more, thickness, thicker, leadFree) => {
        const first = classC(length, length, thickness, leadFree);
        expect(classC(length + more, length, thickness + thicker, leadFree)).toBeLessThanOrEqual(first);
      }),
    );
  });
});

describe('profile figures (J-STD-020 D/E, published, as information)', () => {
  it('are those of the classification profile', () => {
    const both = { soakMinS: 60, soakMaxS: 120, riseMaxCPerS: 3, fallMaxCPerS: 6, passes: 3, use: 'information' };
    expect(profileFigures(false)).toMatchObject({
      ...both,
      ...{ soakMinC: 100, soakMaxC: 150, liquidusC: 183, aboveLiquidusMinS: 60, aboveLiquidusMaxS: 150 },
      ...{ nearClassS: 20, from25ToPeakMaxS: 360 },
    });
    expect(profileFigures(true)).toMatchObject({
      ...both,
      ...{ soakMinC: 150, soakMaxC: 200, liquidusC: 217, aboveLiquidusMinS: 60, aboveLiquidusMaxS: 150 },
      ...{ nearClassS: 30, from25ToPeakMaxS: 480 },
    });
  });
});
