import { figure, listed, shownDuration, shownTime } from './shown-values.js';

describe('values as people read them', () => {
  it.each([
    ['2026-03-03T09:20:00+01:00', '2026-03-03 09:20:00 +01:00'],
    ['2026-03-03T08:20:00.000Z', '2026-03-03 08:20:00 UTC'],
    ['2026-03-03T08:20:00.250Z', '2026-03-03 08:20:00.250 UTC'],
    ['2026-03-03t08:20:60-00:00', '2026-03-03 08:20:60 -00:00'],
    ['no time', 'no time'],
  ])('%s keeps what was told, with its offset', (time, shown) => {
    expect(shownTime(time)).toBe(shown);
  });

  it('have their unit, and no more decimals than help', () => {
    expect(figure(208.3000001, '°C')).toBe('208.3 °C');
    expect(figure(35, 'µm')).toBe('35 µm');
    expect(shownDuration(423)).toBe('7 min 3 s');
    expect(shownDuration(8)).toBe('8 s');
  });

  it('say how many of a long list are left out', () => {
    expect(listed(['a', 'b', 'c'], 2)).toBe('a, b and 1 more (see the JSON)');
    expect(listed(['a', 'b'], 2)).toBe('a, b');
  });
});
