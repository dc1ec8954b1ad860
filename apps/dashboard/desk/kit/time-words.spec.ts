import { dateAndTime, lengthInWords } from './time-words.js';

describe('A length of time', () => {
  it.each([
    [0, '0 min'],
    [59_999, '0 min'],
    [3_600_000 - 1, '59 min'],
    [3_600_000, '1 h 0 min'],
    [2 * 3_600_000 + 5 * 60_000, '2 h 5 min'],
    [76 * 3_600_000, '3 d 4 h'],
  ])('of %d ms is %s', (ms, words) => {
    expect(lengthInWords(ms)).toBe(words);
  });
});

describe('A moment', () => {
  it('is told in the time of where one is', () => {
    const at = new Date(2026, 2, 3, 9, 4).toISOString();
    expect(dateAndTime(at)).toBe('2026-03-03 09:04');
  });
});
