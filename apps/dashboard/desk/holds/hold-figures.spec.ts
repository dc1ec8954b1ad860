import { allowedInWords, figureInWords, scopeInWords } from './hold-figures.js';

describe('Figures of rules', () => {
  it('have the units of the floor', () => {
    expect(figureInWords(10, 'um')).toBe('10 µm');
    expect(figureInWords(0.3, 'share of ball area')).toBe('30 % of ball area');
    expect(figureInWords(261.04999, 'C')).toBe('261.05 °C');
  });

  it('say on which side of them things are right', () => {
    expect(allowedInWords('device-excursions', 3, 'excursions')).toBe('at most 3 excursions');
    expect(allowedInWords('pad-copper-min', 10, 'um')).toBe('at least 10 µm');
    expect(allowedInWords('calibrated-station', 0, 'steps after calibration was due')).toBe(
      'no steps after calibration was due',
    );
  });

  it('keep to their pitches and methods', () => {
    const byPitch = [
      { pitchMm: 0.5, max: 0.08 },
      { pitchMm: 0.8, max: 0.12 },
    ];
    expect(allowedInWords('flatness-max', byPitch, 'mm')).toBe(
      'at most 0.08 mm at 0.5 mm pitch, 0.12 mm at 0.8 mm pitch',
    );
    expect(allowedInWords('method-allowed', ['braid', 'vacuum'], 'dressing methods')).toBe('only braid, vacuum');
  });

  it('name whom they are for', () => {
    expect(scopeInWords({})).toBe('the whole house');
    expect(scopeInWords({ customer: 'Thimblewick', refdes: 'U7' })).toBe('customer Thimblewick, site U7');
  });
});
