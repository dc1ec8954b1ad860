import { Finding, PlantedMistake } from '../../../libs/simulator/mistake.js';
import { compareDay } from './compare-day.js';

const hold = (code: string, subject: string): Finding => ({ kind: 'hold', code, subject });
const planted: PlantedMistake = {
  kind: 'overheated',
  board: 'A-1/S-1',
  operator: 'op',
  story: 'Too hot.',
  expected: [hold('profile-window', 'A-1/S-1#U1')],
};

describe('a day compared with the book', () => {
  it('has nothing to say where the book says what was planted', () => {
    const found = new Map([['A-1/S-1', planted.expected]]);
    expect(compareDay({ mistakes: [planted] }, found)).toEqual({
      mistakes: [{ ...planted, missing: [] }],
      unexpected: [],
    });
  });

  it('names what the book does not say, and what it says besides', () => {
    const other = hold('profile-window', 'A-1/S-1#U2');
    const { mistakes, unexpected } = compareDay({ mistakes: [planted] }, new Map([['A-1/S-1', [other]]]));
    expect(mistakes.map(({ missing }) => missing)).toEqual([planted.expected]);
    expect(unexpected).toEqual([{ board: 'A-1/S-1', ...other }]);
  });

  it('does not take a warning for a hold of the same name', () => {
    const warned: Finding = { ...hold('profile-window', 'A-1/S-1#U1'), kind: 'warning' };
    const { mistakes, unexpected } = compareDay({ mistakes: [planted] }, new Map([['A-1/S-1', [warned]]]));
    expect([mistakes[0]?.missing.length, unexpected.length]).toEqual([1, 1]);
  });
});
