import fc from 'fast-check';
import { DRESSING_METHODS } from '../events/station-event.js';
import { measuredVerdict } from '../heat/excursion-verdict.js';
import { DRESSING_METHOD_FACTS, dressingMinutes } from './dressing-methods.js';

const SITE = { pads: 256, ballPitchMm: 1, padDiameterMm: 0.45 };

/** Whether a die at this peak would count on a SAC305 device, 5 C guard band, with its own thermocouple tolerance. */
function counts(peakC: number): boolean | undefined {
  const reading = { id: 'tc-1', position: 'die', peakC } as const;
  return measuredVerdict([reading], [['die']], { alloys: ['SAC305'], guardBandC: 5, station: undefined })?.counts;
}

describe('the dressing methods', () => {
  // Common practice, no source.
  it('spend nothing of a SAC device by braid, at 150 C and at 180 C on the die', () => {
    const { typical, most } = DRESSING_METHOD_FACTS.braid.dieC ?? {};
    expect([typical, most]).toEqual([150, 180]);
    expect([150, 180].map(counts)).toEqual([false, false]);
  });

  // Common practice, no source.
  it('spend one excursion of it in a fountain, at 217 C and at its peaks of 230 C', () => {
    const { typical, most } = DRESSING_METHOD_FACTS.fountain.dieC ?? {};
    expect([typical, most]).toEqual([217, 230]);
    expect([217, 230].map(counts)).toEqual([true, true]);
  });

  it('say of every fact where it comes from, and of every method what to mind', () => {
    for (const method of DRESSING_METHODS) {
      const { facts, cautions, filmUm } = DRESSING_METHOD_FACTS[method];
      expect(facts.every(({ source }) => source.length > 0)).toBe(true);
      expect(cautions.join(' ')).toMatch(/local safety rules.*lead.*ESD/is);
      // 10 to 50 um after wicking; from memory.
      expect(filmUm >= 10 && filmUm <= 50).toBe(true);
    }
  });

  // 256 mm2 in strips of 0.45 mm at 3 mm/s (common practice, no source): 189.6 s, computed; 6 min set-up assumed.
  it('take a vacuum nozzle through the site at 3 mm/s', () => {
    expect(dressingMinutes('vacuum', SITE) - 6).toBeCloseTo(256 / 0.45 / 3 / 60, 9);
    expect(dressingMinutes('vacuum', { ...SITE, nozzleWidthMm: 0.9 }) - 6).toBeCloseTo(256 / 0.9 / 3 / 60, 9);
  });

  it('are quickest by braid, and vacuum is slower', () => {
    const minutes = DRESSING_METHODS.map((method) => dressingMinutes(method, SITE));
    expect(Math.min(...minutes)).toBe(dressingMinutes('braid', SITE));
    expect(dressingMinutes('vacuum', SITE)).toBeGreaterThan(dressingMinutes('braid', SITE));
  });

  it('take longer for more pads and passes, and always some time', () => {
    const count = fc.integer({ min: 1, max: 3000 });
    fc.assert(
      fc.property(
        fc.constantFrom(...DRESSING_METHODS),
        count,
        count,
        fc.integer({ min: 1, max: 9 }),
        (method, pads, more, passes) => {
          const minutes = dressingMinutes(method, { ...SITE, pads }, passes);
          expect(Number.isFinite(minutes) && minutes > 0).toBe(true);
          expect(dressingMinutes(method, { ...SITE, pads: pads + more }, passes)).toBeGreaterThanOrEqual(minutes);
          expect(dressingMinutes(method, { ...SITE, pads }, passes + 1)).toBeGreaterThan(minutes);
        },
      ),
    );
    expect(() => dressingMinutes('braid', { ...SITE, pads: 0 })).toThrow(RangeError);
    expect(() => dressingMinutes('vacuum', { ...SITE, nozzleWidthMm: Number.NaN })).toThrow(RangeError);
  });
});
