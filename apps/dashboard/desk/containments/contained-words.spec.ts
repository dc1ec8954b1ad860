import { barsOf, howManyInWords, whereWords, withNobodys } from './contained-words.js';

describe('What is contained', () => {
  it.each([
    [37, 0, '37 units'],
    [1, 1, '1 unit and 1 loose device'],
    [0, 24, '24 loose devices'],
    [0, 0, 'nothing'],
  ])('is %d units and %d devices in words', (units, devices, words) => {
    expect(howManyInWords(units, devices)).toBe(words);
  });

  it('is somewhere', () => {
    expect(['in-house', 'shipped', 'loose'].map(whereWords)).toEqual(['in the house', 'shipped', 'a loose device']);
  });

  it('is counted by name, the most first', () => {
    expect(barsOf({ shipped: 2, loose: 5 }, whereWords)).toEqual([
      { name: 'loose', label: 'a loose device', count: 5 },
      { name: 'shipped', label: 'shipped', count: 2 },
    ]);
  });

  it('may be nobody’s', () => {
    expect(withNobodys({ Quorndle: 2 }, 5)).toEqual({ Quorndle: 2, '': 3 });
    expect(withNobodys({ Quorndle: 2 }, 2)).toEqual({ Quorndle: 2 });
  });
});
