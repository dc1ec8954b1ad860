import { hotWarpage } from './hot-warpage.js';

describe('hot warpage by pitch (ED-7306: 1.0 mm published, the rest from memory)', () => {
  it.each([
    [0.4, 0.1],
    [0.5, 0.11],
    [0.65, 0.14],
    [0.8, 0.17],
    [1, 0.22],
    [1.27, 0.25],
  ])('of %f mm pitch allows %f mm', (pitchMm, allowedMm) => {
    expect(hotWarpage(pitchMm)?.allowedMm).toBe(allowedMm);
  });

  it('takes the stricter row between two, and none below the finest', () => {
    expect(hotWarpage(0.75)).toMatchObject({ pitchMm: 0.65, allowedMm: 0.14 });
    expect(hotWarpage(0.3)).toBeUndefined();
    expect(() => hotWarpage(0)).toThrow(RangeError);
  });

  it('says which of its figures is published', () => {
    expect([hotWarpage(1)?.source, hotWarpage(0.8)?.source]).toEqual(['ED-7306, published', 'ED-7306, from memory']);
  });
});
