import { calibrationWords } from './calibration-words.js';

const NOW = new Date(2026, 2, 3, 12).getTime();
const at = (days: number) => new Date(NOW + days * 86_400_000).toISOString();

describe('Calibration in words', () => {
  it('says until when it is in date, how soon it is due, and since when it is overdue', () => {
    expect(calibrationWords({ calibration: 'in-date', calibrationDueAt: at(90) }, NOW)).toEqual({
      tone: 'good',
      word: 'in date',
      when: 'to 2026-06-01',
    });
    expect(calibrationWords({ calibration: 'due-soon', calibrationDueAt: at(5) }, NOW).when).toBe(
      '2026-03-08, in 5 d 0 h',
    );
    const overdue = calibrationWords({ calibration: 'overdue', calibrationDueAt: at(-2) }, NOW);
    expect([overdue.tone, overdue.when]).toEqual(['stop', 'since 2026-03-01']);
  });

  it('does not take a missing date for a good one', () => {
    expect(calibrationWords({ calibration: 'unknown', calibrationDueAt: null }, NOW).tone).toBe('plain');
  });
});
