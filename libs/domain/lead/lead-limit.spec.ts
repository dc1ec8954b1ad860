import { flushesNeeded } from './flushes-needed.js';
import { judgeLead } from './judge-lead.js';
import { leadInJoint } from './lead-in-joint.js';
import { mostFilmUm } from './most-film-um.js';

/** Directive 2011/65/EU, wt% of a homogeneous material; published. */
const LIMIT_PCT = 0.1;
const BALL = { ball: { diameterMm: 0.6, alloy: 'SAC305' }, padDiameterMm: 0.45 };
const FILM_10 = { filmUm: 10, alloy: 'Sn63Pb37' };
const FLUSH = { alloy: 'SAC305', volumeMm3: 0.05, filmUm: 10 };

describe('the most film that passes', () => {
  // Computed: Sn63Pb37 on a SAC305 ball, flux-only attach.
  it.each([
    [0.3, 0.25, '0.686'],
    [0.45, 0.35, '1.181'],
    [0.5, 0.4, '1.240'],
    [0.6, 0.45, '1.693'],
    [0.76, 0.6, '1.936'],
  ])('is for ball %d mm on pad %d mm %s um', (diameterMm, padDiameterMm, um) => {
    const question = { ball: { diameterMm, alloy: 'SAC305' }, padDiameterMm, remnantAlloy: 'Sn63Pb37' };
    const most = mostFilmUm(question, LIMIT_PCT);
    if (most.kind !== 'film') throw new Error(most.kind);
    expect(most.filmUm.toFixed(3)).toBe(um);
    const remnant = { filmUm: most.filmUm, alloy: 'Sn63Pb37' };
    expect(leadInJoint({ ...question, remnant })).toHaveProperty('leadPct', expect.closeTo(LIMIT_PCT, 10));
  });

  // Computed: .001 / (.37 - .001), and by volume .0027100 x 7.38 / 8.40.
  it('is .0027100 of the clean solder by mass and .0023810 by volume', () => {
    const most = mostFilmUm({ ...BALL, remnantAlloy: 'Sn63Pb37' }, LIMIT_PCT);
    const ballMm3 = (Math.PI / 6) * 0.6 ** 3;
    const remnantMg = most.kind === 'film' ? most.remnantMg : 0;
    expect((remnantMg / (ballMm3 * 7.38)).toFixed(7)).toBe('0.0027100');
    expect((remnantMg / 8.4 / ballMm3).toFixed(7)).toBe('0.0023810');
  });

  it('is any where the remnant has no lead, and none where the ball has too much', () => {
    expect(mostFilmUm({ ...BALL, remnantAlloy: 'SAC405' }, LIMIT_PCT).kind).toBe('any');
    const leaded = { ball: { diameterMm: 0.6, alloy: 'Sn63Pb37' }, padDiameterMm: 0.45, remnantAlloy: 'Sn63Pb37' };
    expect(mostFilmUm(leaded, LIMIT_PCT).kind).toBe('none');
    expect(mostFilmUm({ ...BALL, remnantAlloy: 'pewter' }, LIMIT_PCT).kind).toBe('unknown');
    expect(() => mostFilmUm({ ...BALL, remnantAlloy: 'SAC305' }, -1)).toThrow(RangeError);
  });
});

describe('flushes needed', () => {
  it('is one where one brings the joint below the limit', () => {
    const needed = flushesNeeded({ ...BALL, remnant: FILM_10 }, FLUSH, LIMIT_PCT);
    if (needed.kind !== 'flushes') throw new Error(needed.kind);
    expect(needed.count).toBe(1);
    // Worked values A and D, computed.
    expect(needed.leadPct.map((pct) => pct.toFixed(4))).toEqual(['0.5829', '0.0180']);
  });

  it('is none where the joint passes already, and more from a thicker remnant', () => {
    expect(flushesNeeded({ ...BALL, remnant: { filmUm: 1.5, alloy: 'Sn63Pb37' } }, FLUSH, LIMIT_PCT)).toMatchObject({
      count: 0,
    });
    const cap = { ...BALL, remnant: { capHeightUm: 100, alloy: 'Sn63Pb37' } };
    expect(flushesNeeded(cap, { ...FLUSH, filmUm: 50 }, LIMIT_PCT)).toMatchObject({ kind: 'flushes', count: 2 });
  });

  it('is no number where flushing cannot help', () => {
    const leaded = { ball: { diameterMm: 0.6, alloy: 'Sn63Pb37' }, padDiameterMm: 0.45, remnant: FILM_10 };
    const never = flushesNeeded(leaded, FLUSH, LIMIT_PCT);
    expect(never).toMatchObject({ kind: 'never' });
    expect(never.kind === 'never' && never.leadPct).toHaveLength(11);
  });
});

describe('the verdict on lead', () => {
  const estimate = leadInJoint({ ...BALL, remnant: FILM_10 });

  it('rests on a measurement where there is one, and shows that the estimate disagreed', () => {
    const verdict = judgeLead({ estimate, measuredPct: 0.04, limitPct: LIMIT_PCT });
    expect(verdict).toMatchObject({ leadPct: 0.04, basis: 'measured', passes: true });
    expect(verdict.disagreement).toMatchObject({
      measuredPct: 0.04,
      estimatedPct: expect.closeTo(0.5829, 4) as number,
    });
    expect(judgeLead({ estimate, measuredPct: 0.5, limitPct: LIMIT_PCT })).not.toHaveProperty('disagreement');
    expect(judgeLead({ estimate, measuredPct: 2, limitPct: LIMIT_PCT })).toHaveProperty('disagreement');
  });

  it('asks for a measurement or a flush where only an estimate is over', () => {
    const verdict = judgeLead({ estimate, limitPct: LIMIT_PCT });
    expect(verdict).toMatchObject({ basis: 'assumed', passes: false });
    expect(verdict.remedy).toMatch(/measure.*flush/i);
  });

  it('is open where nothing is known, and passes exactly at the limit', () => {
    expect(judgeLead({ limitPct: LIMIT_PCT })).toMatchObject({ leadPct: null, passes: null, basis: 'unknown' });
    expect(judgeLead({ measuredPct: 0.1, limitPct: LIMIT_PCT }).passes).toBe(true);
    expect(() => judgeLead({ measuredPct: Number.NaN, limitPct: LIMIT_PCT })).toThrow(RangeError);
  });
});
