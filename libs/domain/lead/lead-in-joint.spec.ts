import fc from 'fast-check';
import { ALLOY_NAMES } from '../heat/alloys.js';
import { leadedAlloy } from './lead-fraction.js';
import { LeadEstimate, leadInJoint, LeadJoint } from './lead-in-joint.js';
import { ballVolumeMm3 } from './solder-volume.js';

function estimate(joint: LeadJoint): LeadEstimate {
  const result = leadInJoint(joint);
  if (result.kind === 'unknown') throw new Error(result.detail);
  return result;
}

const BALL = { ball: { diameterMm: 0.6, alloy: 'SAC305' }, padDiameterMm: 0.45 };
const FILM_10 = { filmUm: 10, alloy: 'Sn63Pb37' };
/** Printed through a 0.45 mm aperture, 0.125 mm high: mm3. */
const PASTE_MM3 = (Math.PI / 4) * 0.45 ** 2 * 0.125;

describe('lead by alloy', () => {
  it.each([
    ['Sn63Pb37', 0.37],
    ['Sn60Pb40', 0.4],
    ['Sn62Pb36Ag2', 0.36],
  ])('is read off the name: %s %d', (name, fraction) => {
    expect(leadedAlloy(name)?.leadFraction).toBe(fraction);
  });

  it('is nothing in the others, and unknown in what the house does not know', () => {
    const others = ALLOY_NAMES.filter((name) => !name.includes('Pb'));
    expect(others.map((name) => leadedAlloy(name)?.leadFraction)).toEqual(others.map(() => 0));
    expect(leadedAlloy('Sn10Pb90')).toBeUndefined();
    expect(leadInJoint({ ...BALL, remnant: { filmUm: 5, alloy: 'Sn10Pb90' } })).toMatchObject({
      kind: 'unknown',
      alloy: 'Sn10Pb90',
    });
  });
});

describe('lead in the finished joint', () => {
  // Computed: SAC305 ball, 7.38 g/cm3.
  it.each([
    [0.3, '0.1043'],
    [0.45, '0.3521'],
    [0.5, '0.4830'],
    [0.6, '0.8347'],
    [0.76, '1.6963'],
  ])('starts from a ball of %d mm that weighs %s mg', (diameterMm, mg) => {
    expect((ballVolumeMm3(diameterMm) * 7.38).toFixed(4)).toBe(mg);
  });

  // Computed: even Sn63Pb37 film, flux-only attach, wt%.
  const FILMS_UM = [2, 5, 10, 25, 50];
  it.each([
    [0.3, 0.25, [0.2902, 0.717, 1.4067, 3.327, 6.105]],
    [0.45, 0.35, [0.1691, 0.4198, 0.8302, 2.0078, 3.8089]],
    [0.5, 0.4, [0.161, 0.3999, 0.7913, 1.9167, 3.6447]],
    [0.6, 0.45, [0.1181, 0.2938, 0.5829, 1.4236, 2.7417]],
    [0.76, 0.6, [0.1033, 0.2572, 0.5109, 1.2513, 2.4208]],
  ])('follows the film: ball %d mm on pad %d mm, %j wt%%', (diameterMm, padDiameterMm, expected) => {
    const found = FILMS_UM.map((filmUm) =>
      estimate({ ball: { diameterMm, alloy: 'SAC305' }, padDiameterMm, remnant: { filmUm, alloy: 'Sn63Pb37' } }),
    );
    const digits = diameterMm === 0.3 ? [4, 4, 4, 3, 3] : [4, 4, 4, 4, 4];
    expect(found.map(({ leadPct }, i) => Number(leadPct.toFixed(digits[i])))).toEqual(expected);
  });

  // Worked values, computed; a 0.60 mm SAC305 ball on a 0.45 mm pad.
  it('A: comes to .5829 from a film of 10 um', () => {
    expect(estimate({ ...BALL, remnant: FILM_10 }).leadPct.toFixed(4)).toBe('0.5829');
  });

  it('B: comes to .5365 with lead-free paste as well', () => {
    const joint = estimate({
      ...BALL,
      remnant: FILM_10,
      paste: { alloy: 'SAC305', volumeMm3: PASTE_MM3, metalShare: 0.5 },
    });
    expect(joint.leadPct.toFixed(4)).toBe('0.5365');
    const clean = joint.parts.filter(({ name }) => name !== 'remnant').reduce((sum, { massMg }) => sum + massMg, 0);
    expect(clean.toFixed(7)).toBe('0.9080170');
  });

  it('C: comes to .0886 from 1.5 um, which passes', () => {
    expect(estimate({ ...BALL, remnant: { filmUm: 1.5, alloy: 'Sn63Pb37' } }).leadPct.toFixed(4)).toBe('0.0886');
  });

  it('D: comes to .0180 after a flush with .05 mm3 of SAC305, wicked to 10 um again', () => {
    const flushes = [{ alloy: 'SAC305', volumeMm3: 0.05, filmUm: 10 }];
    const joint = estimate({ ...BALL, remnant: FILM_10, flushes });
    expect(joint.leadPct.toFixed(4)).toBe('0.0180');
    const [remnant] = joint.parts;
    expect(remnant?.leadFraction.toFixed(7)).toBe('0.0129278');
    const filmMm3 = (Math.PI / 4) * 0.45 ** 2 * 0.01;
    expect(((remnant?.massMg ?? 0) / filmMm3).toFixed(5)).toBe('7.41144');
  });

  it('E: comes to 2.908 from an undressed cap .10 mm high', () => {
    expect(estimate({ ...BALL, remnant: { capHeightUm: 100, alloy: 'Sn63Pb37' } }).leadPct.toFixed(3)).toBe('2.908');
  });

  it('F: comes to 3.365 from a lead-free ball in leaded paste', () => {
    const joint = estimate({
      ...BALL,
      remnant: { filmUm: 0, alloy: 'SAC305' },
      paste: { alloy: 'Sn63Pb37', volumeMm3: PASTE_MM3 },
    });
    expect(joint.leadPct.toFixed(3)).toBe('3.365');
    expect(joint.parts.find(({ name }) => name === 'paste')?.massMg.toFixed(7)).toBe('0.0834976');
  });

  it('never passes for a measurement', () => {
    expect(estimate({ ...BALL, remnant: FILM_10 })).toMatchObject({ basis: 'assumed' });
    expect(estimate({ ...BALL, remnant: FILM_10 }).why.join(' ')).toContain('from memory');
    expect(estimate({ ...BALL, remnant: { ...FILM_10, heightBasis: 'measured' } }).basis).toBe('inferred');
  });

  it('takes a bath analysis before the name of the alloy', () => {
    const bath = { filmUm: 30, alloy: 'SAC305', leadFraction: 0.02 };
    expect(estimate({ ...BALL, remnant: bath }).leadMg).toBeGreaterThan(0);
  });

  it('turns down figures that do not fit', () => {
    expect(() => leadInJoint({ ...BALL, remnant: { filmUm: -1, alloy: 'SAC305' } })).toThrow(RangeError);
    expect(() => leadInJoint({ ...BALL, padDiameterMm: 0, remnant: FILM_10 })).toThrow(RangeError);
    expect(() => leadInJoint({ ...BALL, remnant: { ...FILM_10, leadFraction: 1.1 } })).toThrow(RangeError);
    const paste = { alloy: 'SAC305', volumeMm3: 0.02, metalShare: 2 };
    expect(() => leadInJoint({ ...BALL, remnant: FILM_10, paste })).toThrow(RangeError);
  });

  it('rises with the film, falls with the ball and with every lead-free flush, and is always a share', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const alloy = fc.constantFrom('Sn63Pb37', 'Sn60Pb40', 'Sn62Pb36Ag2');
    fc.assert(
      fc.property(
        number(0, 200),
        number(0, 50),
        number(0.2, 0.9),
        number(0, 0.3),
        alloy,
        (filmUm, more, ballMm, volumeMm3, name) => {
          const joint: LeadJoint = {
            ball: { diameterMm: ballMm, alloy: 'SAC305' },
            padDiameterMm: 0.4,
            remnant: { filmUm, alloy: name },
          };
          const pct = estimate(joint).leadPct;
          expect(pct >= 0 && pct <= 40).toBe(true);
          expect(
            estimate({ ...joint, remnant: { filmUm: filmUm + more, alloy: name } }).leadPct,
          ).toBeGreaterThanOrEqual(pct);
          const larger = { diameterMm: ballMm + 0.1, alloy: 'SAC305' };
          expect(estimate({ ...joint, ball: larger }).leadPct).toBeLessThanOrEqual(pct);
          const flushes = [{ alloy: 'SAC305', volumeMm3, filmUm }];
          expect(estimate({ ...joint, flushes }).leadPct).toBeLessThanOrEqual(pct + 1e-12);
        },
      ),
    );
  });
});
