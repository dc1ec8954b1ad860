import { spanInWords } from './span-words.js';

const at = (day: number, hour: number, minute: number) => new Date(2026, 2, day, hour, minute).toISOString();

it('A span says the day once where it is one day, and once where it is one minute', () => {
  expect(spanInWords(at(3, 18, 58), at(3, 19, 41))).toBe('2026-03-03 18:58 to 19:41');
  expect(spanInWords(at(3, 18, 58), at(4, 6, 0))).toBe('2026-03-03 18:58 to 2026-03-04 06:00');
  expect(spanInWords(at(3, 18, 58), at(3, 18, 58))).toBe('2026-03-03 18:58');
});
